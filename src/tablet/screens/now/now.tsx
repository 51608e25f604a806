import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { type NowShard, nowShard } from '../../app/now-shard.ts';
import { ReadingLog } from '../../app/reading-log.tsx';
import { Screen, type ScreenProps } from '../../app/screen.tsx';
import { person } from '../../app/session.ts';
import { view } from '../../app/tablet.ts';
import { WhoFirst } from './who-first.tsx';
import './now.css';
// With the first sheets: a lazy part waits for those that come with it.
import '../../shared-screens/finding-link.css';
import '../../shared-screens/notes.css';

type Around = typeof import('./around.tsx');

/** What is worked out from the log: the first frame of a long one does not wait for it. */
const around = signal<Around | null>(null);
/** What needs no log: it is fetched while the tablet still opens its storage. */
const atOnce = signal<typeof import('./at-once.tsx') | null>(null);

export async function loadAround(): Promise<void> {
  around.value ??= await import('./around.tsx');
}

export async function loadAtOnce(): Promise<void> {
  atOnce.value ??= await import('./at-once.tsx');
}

/** The parts of the screen, from the log or from what was kept of it. */
interface Parts extends Pick<ScreenProps, 'operation' | 'detail'> {
  readonly work: ComponentChildren;
  readonly beside: ComponentChildren;
  readonly ahead: ComponentChildren;
}

/** What this shift does next. */
export function Now() {
  const read = view.value !== null;
  useEffect(() => {
    void loadAtOnce();
    if (read) void loadAround();
  }, [read]);
  const nobody = person.value === null;
  const parts = partsOf(view.value, nobody);
  if (!parts) return <ReadingLog />;
  const { work, beside, ahead, ...frame } = parts;
  const NoteLine = atOnce.value?.NoteLine;
  return (
    <Screen place="now" name="Now" {...frame} work="work-two now">
      <div class="stack">
        {nobody && <WhoFirst />}
        {work}
        {NoteLine && <NoteLine key="note" />}
        {beside}
      </div>
      <div class="stack">{ahead}</div>
    </Screen>
  );
}

/** What was kept stands until all that takes its place is here. */
function partsOf(v: View | null, nobody: boolean): Parts | null {
  if (v && around.value) return fromLog(v, around.value, nobody);
  return fromShard(nowShard.value, nobody) ?? (v ? { work: null, beside: null, ahead: null } : null);
}

function fromLog(v: View, rest: Around, nobody: boolean): Parts {
  const work = rest.openWork(v);
  const first = work[0]?.operation;
  const heat = rest.runningHeat(v);
  return {
    ...(first ? { operation: first.name, detail: `operation ${first.id} · ${v.genesis.name}` } : {}),
    work: (
      <>
        <rest.HandoverWaits handovers={rest.handoverFacts(v)} />
        {heat && <rest.DueRound view={v} heat={heat} waits={nobody} />}
        <rest.NextWork view={v} work={work} waits={nobody || heat !== null} />
        <rest.ArrangementsLine open={rest.arrangementFacts(v)} zone={v.genesis} />
      </>
    ),
    beside: <rest.Beside view={v} work={work.slice(1)} />,
    ahead: <rest.Ahead view={v} />,
  };
}

/** While a long log is read; null when nothing was kept of it. */
function fromShard(shard: NowShard | null, nobody: boolean): Parts | null {
  const rest = atOnce.value;
  if (!shard) return null;
  const { next, frame } = shard;
  return {
    ...(next ? { operation: next.title, detail: `operation ${next.id} · ${frame.casting}` } : {}),
    work: rest && <rest.WorkAtOnce shard={shard} waits={nobody} />,
    beside: null,
    ahead: rest && <rest.AheadAtOnce shard={shard} />,
  };
}
