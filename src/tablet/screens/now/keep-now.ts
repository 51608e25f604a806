import { effect } from '@preact/signals';
import type { Log } from '../../../../shared/logbook/log.ts';
import { inPieces } from '../../app/in-pieces.ts';
import { nowShard } from '../../app/now-shard.ts';
import { person } from '../../app/session.ts';
import { settingsOfFrame } from '../../app/settings.ts';
import { phase, READ_AT_ONCE, store, view } from '../../app/tablet.ts';
import { keepFirstFrame } from '../../storage/first-frame.ts';
import { inIdleTime } from '../../storage/in-idle-time.ts';
import { putNowRow } from '../../storage/now-row.ts';
import { nowBeside } from './now-beside.ts';
import { nowPieces } from './now-facts.ts';

/** So long nothing new must have come before the first screen is kept: not while somebody is entering a survey. */
const QUIET_MS = 2_000;

/**
 * Keeps the first screen beside the log whenever that has rested, so that the next start need not read the log first.
 * Where what was kept does not fit a long log, a worker works it out while this thread reads.
 */
export function keepNow(): void {
  let waiting: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    clearTimeout(waiting);
    if (view.value) waiting = setTimeout(() => inIdleTime(() => void keep()), QUIET_MS);
  });
  effect(() => {
    if (phase.value === 'reading' && !nowShard.peek()) void workOutBeside();
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') void keep();
  });
}

async function keep(): Promise<void> {
  const open = store.peek();
  const v = view.peek();
  // Without the judge the verdicts are those that were shown, not those worked out again.
  if (!open || !v?.judge || open.damaged.length > 0) return;
  const { db, stamp, log } = open;
  const state = await inPieces(unlessItGrows(log, nowPieces(v, Date.now())));
  if (!state) return;
  await putNowRow(db, stamp, state).catch((error: unknown) =>
    console.error('The first screen is kept the next time', error),
  );
  keepFirstFrame(stamp, {
    casting: db.casting,
    short: stamp.entries <= READ_AT_ONCE,
    state,
    person: person.peek()?.id ?? null,
    ...settingsOfFrame(),
  });
}

/** Gives up, with null, once the log has grown: then the first screen is kept after that has been shown. */
function* unlessItGrows<T>(log: Log, work: Generator<void, T>): Generator<void, T | null> {
  const { version } = log;
  while (log.version === version) {
    const piece = work.next();
    if (piece.done) return piece.value;
    yield;
  }
  return null;
}

async function workOutBeside(): Promise<void> {
  const open = store.peek();
  if (!open) return;
  const shard = await nowBeside(open.db.casting).catch((error: unknown) => {
    console.error('The worker could not work out the first screen', error);
    return null;
  });
  if (shard && phase.peek() === 'reading' && store.peek() === open) nowShard.value = shard;
}
