import { computed } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { AppFrame } from '../parts/app-frame.tsx';
import type { Place } from '../parts/rail.tsx';
import type { FrameFacts } from './frame-facts.ts';
import { hallAsked } from './hall-asked.ts';
import { fold } from './load-fold.ts';
import { nowShard } from './now-shard.ts';
import { quietLine } from './quiet-line.ts';
import { person } from './session.ts';
import { storageIsNearlyFull } from './storage-state.ts';
import { openStore, store, view } from './tablet.ts';
import { clockTime, dayNumber, now } from './time.ts';
import { askWho, rolesOf } from './who.ts';

export type PlaceName = 'now' | 'sequence' | 'survey' | 'furnace' | 'handover' | 'record' | 'setup';

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

/**
 * What the frame shows of the log: worked out when the log has grown, not whenever a screen draws itself anew. While a
 * long log is being read it stands as it was kept.
 */
const frame = computed((): FrameFacts | null =>
  view.value ? fold().frameFacts(view.value) : (nowShard.value?.frame ?? null),
);

/** Red is for what must not wait: a fork, a damaged record, a storage that is nearly full, or a tablet that does not count. */
const alarm = computed((): string | undefined => {
  const log = view.value?.log;
  if (log && openStore().damaged.length > 0) return 'Part of the record is damaged: see Record';
  if (log?.devices().some((device) => log.forkOf(device) !== null))
    return 'A tablet wrote twice at one place: see Record';
  if (storageIsNearlyFull.value) return 'The storage is nearly full: see Setup';
  const own = store.value?.device;
  return view.value?.standing.tablets().some((t) => t.device === own) === false
    ? 'No keeper has admitted this tablet: nothing counts yet'
    : undefined;
});

/** A screen of the open casting in its frame: title block, spine, places. */
export function Screen({ place, name, operation, detail, work, keying, children }: ScreenProps) {
  if (!frame.value) return null;
  const { spine, open, timeZone, dayOne, practice, casting, revision } = frame.value;
  return (
    <AppFrame
      title={{
        screen: name,
        operation: operation ?? casting,
        detail: detail ?? `plan revision ${revision}`,
        practice,
        person: person.value ? { name: person.value.name, role: rolesOf(person.value) } : null,
        state: { ...quietLine({ timeZone, dayOne }), ...(alarm.value ? { alarm: alarm.value, href: '/record' } : {}) },
        clock: { time: clockTime(now.value, timeZone), day: `day ${dayNumber(now.value, dayOne, timeZone)}` },
        onClock: () => void askWho(),
      }}
      spine={spine}
      places={placesOf(open, place)}
      onEmergency={() => {
        hallAsked.value = true;
      }}
      keying={keying}
      work={work}
    >
      {children}
    </AppFrame>
  );
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
    place('handover', 'Handover', '/handover'),
    place('record', 'Record', '/record', { underTitle: true }),
    place('setup', 'Setup', '/setup', { underTitle: true }),
  ];
}
