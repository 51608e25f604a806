import { computed } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { findings } from '../../../shared/logbook/state/findings.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { AppFrame } from '../parts/app-frame.tsx';
import type { Place } from '../parts/rail.tsx';
import { person } from './session.ts';
import { spineOf } from './spine.ts';
import { outbox, storageIsNearlyFull } from './storage-state.ts';
import { openStore, view } from './tablet.ts';
import { clockTime, dayNumber, now } from './time.ts';
import { askWho, rolesOf } from './who.tsx';

export type PlaceName = 'now' | 'sequence' | 'survey' | 'furnace' | 'record' | 'setup';

export interface ScreenProps {
  /** Which place of the rail it belongs to. */
  readonly place: PlaceName;
  /** The screen's name, the only h1. */
  readonly name: string;
  /** What is worked on; the casting's name unless told. */
  readonly operation?: string;
  readonly detail?: ComponentChildren;
  /** The class of the work's grid. */
  readonly work?: string;
  readonly keying?: boolean;
  readonly children: ComponentChildren;
}

/** What the frame shows of the log: worked out when the log has grown, not whenever a screen draws itself anew. */
const frame = computed(() => {
  const v = view.value;
  if (!v) return null;
  const open = findings(v).filter((f) => f.state === 'open' && f.severity !== 'minor').length;
  return { spine: spineOf(v), open, alarm: alarmOf(v) };
});

/** A screen of the open casting in its frame: title block, spine, places. */
export function Screen({ place, name, operation, detail, work, keying, children }: ScreenProps) {
  const v = view.value;
  if (!v || !frame.value) return null;
  const { spine, open, alarm } = frame.value;
  const { timeZone, dayOne, practice, name: casting } = v.genesis;
  return (
    <AppFrame
      title={{
        screen: name,
        operation: operation ?? casting,
        detail: detail ?? `plan revision ${v.plan.revision}`,
        practice,
        person: person.value ? { name: person.value.name, role: rolesOf(person.value) } : null,
        state: { waiting: outbox.value.count, since: null, late: false, href: '/record', alarm },
        clock: { time: clockTime(now.value, timeZone), day: `day ${dayNumber(now.value, dayOne, timeZone)}` },
        onClock: () => void askWho(),
      }}
      spine={spine}
      places={placesOf(open, place)}
      keying={keying}
      work={work}
    >
      {children}
    </AppFrame>
  );
}

/** Red is for what must not wait: a fork, a damaged record, or a storage that is nearly full. */
function alarmOf(v: View): string | undefined {
  const forked = v.log.devices().some((device) => v.log.forkOf(device) !== null);
  if (openStore().damaged.length > 0) return 'Part of the record is damaged: see Record';
  if (forked) return 'A tablet wrote twice at one place: see Record';
  return storageIsNearlyFull.value ? 'The storage is nearly full: see Setup' : undefined;
}

function placesOf(open: number, current: PlaceName): Place[] {
  const place = (icon: PlaceName, label: string, href: string, more: Partial<Place> = {}): Place => ({
    href,
    label,
    icon,
    current: icon === current,
    ...more,
  });
  return [
    place('now', 'Now', '/', { count: open, countOf: 'open findings' }),
    place('sequence', 'Sequence', '/sequence', { underTitle: true }),
    place('survey', 'Survey', '/survey'),
    place('furnace', 'Furnace', '/furnace'),
    place('record', 'Record', '/record', { underTitle: true }),
    place('setup', 'Setup', '/setup', { underTitle: true }),
  ];
}
