import { computed, signal } from '@preact/signals';
import type { Standing } from '../../../shared/logbook/standing.ts';
import type { Judge } from '../../../shared/logbook/state/derived-value.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { CastingStore } from '../storage/casting-store.ts';
import { CastingDatabase, type CastingRow, TabletDatabase } from '../storage/database.ts';
import { type FirstFrame, fits, forgetFirstFrame, readFirstFrame } from '../storage/first-frame.ts';
import { inIdleTime } from '../storage/in-idle-time.ts';
import { readKeptChart } from '../storage/kept-chart.ts';
import { readNowRow, stampOf } from '../storage/now-row.ts';
import { inPieces } from './in-pieces.ts';
import { fold, loadFold } from './load-fold.ts';
import { type NowShard, nowShard } from './now-shard.ts';

/** A log of so few entries is read before the first screen is drawn. */
export const READ_AT_ONCE = 1_500;

/** Where the chart of all heats stands. */
export const CHART = '/heat/chart';

/** Where the browser keeps which casting was open last: only to open it sooner, the list of castings says which it is. */
const LAST_OPEN = 'last open casting';

/** What this tablet has open. Screens read the signals; only the functions here and in `acts/` change them. */
export const tabletDb = new TabletDatabase();

/** `standing` is null while the log is being read. */
const opened = signal<{ store: CastingStore; standing: Standing | null } | null>(null);
const version = signal(0);
const judge = signal<Judge | null>(null);
/** The casting that is being opened at the start; null once one is open. */
const ahead = signal<{ db: CastingDatabase; opening: Promise<CastingStore>; frame: FirstFrame | null } | null>(null);

/**
 * Tells the screens that the log has grown: after the next frame, so that what was just saved is said first. Answers
 * asked meanwhile are right already, since the log itself has the entry.
 */
export function logChanged(): void {
  if (telling) return;
  telling = true;
  afterNextFrame(() => void tell());
}

/** What the entry changed is worked out in pieces between which keys are heard, and then shown. */
async function tell(): Promise<void> {
  if (store.peek()) forgetFirstFrame(store.peek()!.stamp);
  const v = view.peek() && opened.peek() ? viewNow() : null;
  if (v) await inPieces(fold().workOut(v)).catch(console.error);
  telling = false;
  version.value += 1;
  const told = hearers;
  hearers = [];
  afterNextFrame(() => {
    for (const hear of told) hear();
  });
}

let telling = false;
let hearers: (() => void)[] = [];

/** Resolves when the screens show the log as it is now. */
export function logShown(): Promise<void> {
  if (!telling) return Promise.resolve();
  return new Promise((resolve) => hearers.push(resolve));
}

/** A hidden page draws no frames. */
function afterNextFrame(work: () => void): void {
  if (document.visibilityState === 'hidden') setTimeout(work);
  else requestAnimationFrame(() => setTimeout(work));
}

export const castings = signal<readonly CastingRow[]>([]);
/** `reading` while a long log is read: saving works, and the first screen stands as it was kept. */
export const phase = signal<'starting' | 'no casting' | 'reading' | 'open' | 'failed'>('starting');
export const failure = signal<string | null>(null);

/** What names the log that is shown, or is about to be; null before anything is known of it. */
export const logStamp = signal<string | null>(null);

/** How far the log has been read, in segments, while a long one is opened; null otherwise. */
export const readingLog = signal<{ done: number; of: number } | null>(null);

export const store = computed<CastingStore | null>(() => opened.value?.store ?? null);

function viewNow(): View | null {
  const casting = opened.value;
  return casting?.standing ? fold().viewOf(casting.store.log, judge.value, casting.standing) : null;
}

/** The casting as this tablet knows it, worked out anew when an entry comes. */
export const view = computed<View | null>(() => {
  void version.value;
  return viewNow();
});

/** The open casting; screens that only stand inside one use this. */
export function openView(): View {
  if (!view.value) throw new Error('No casting is open');
  return view.value;
}

/** The database of the casting that is open or about to be: it takes drafts before its log is read. */
export function openDatabase(): CastingDatabase {
  const db = store.value?.db ?? ahead.value?.db;
  if (!db) throw new Error('No casting is open');
  return db;
}

/** The open casting, as soon as its storage has answered. */
export async function storeOpened(): Promise<CastingStore> {
  await starting;
  return openStore();
}

export function openStore(): CastingStore {
  if (!store.value) throw new Error('No casting is open');
  return store.value;
}

let starting: Promise<void> = Promise.resolve();

/** Reads what the tablet holds and opens the casting that was open last. */
export function startTablet(): Promise<void> {
  starting = openLast();
  return starting;
}

async function openLast(): Promise<void> {
  try {
    // The first frame of a long log does not want it.
    if (!ahead.peek()?.frame) void loadFold();
    castings.value = await tabletDb.castings.toArray();
    const last = [...castings.value].sort((a, b) => b.openedAt.localeCompare(a.openedAt))[0];
    if (last) await openCasting(last.id);
    else {
      await loadFold();
      ahead.value = null;
      phase.value = 'no casting';
    }
  } catch (error) {
    fail(error);
  }
}

/**
 * Opens the casting that is most likely wanted while the list of castings is still being read.
 * @returns its first frame where one was kept: it stands until the storage has answered.
 */
export function openAhead(): FirstFrame | null {
  const id = localStorage.getItem(LAST_OPEN);
  if (id === null) return null;
  const db = new CastingDatabase(id);
  const opening = CastingStore.openUnread(db, logChanged);
  // A casting that is here no more is not the one that the list names: nobody waits for this one.
  opening.catch(() => undefined);
  const frame = frameWanted(id);
  ahead.value = { db, opening, frame };
  if (!frame) return null;
  logStamp.value = frame.stamp;
  nowShard.value = frame.state as NowShard;
  phase.value = 'reading';
  return frame;
}

/** A short log is read before the first screen is drawn, but for the chart: its samples come after the log. */
function frameWanted(casting: string): FirstFrame | null {
  const frame = readFirstFrame(casting);
  if (!frame?.short) return frame;
  return location.pathname === CHART && readKeptChart(casting, frame.stamp) ? frame : null;
}

/** Opens a casting; a long log is read on while the tablet is in use. */
export async function openCasting(id: string): Promise<void> {
  const expected = ahead.peek()?.db.casting === id ? ahead.peek() : null;
  const next = await (expected?.opening ?? CastingStore.openUnread(new CastingDatabase(id), logChanged));
  localStorage.setItem(LAST_OPEN, id);
  logStamp.value = stampOf(next.stamp);
  const fitting = expected?.frame && fits(expected.frame, next.stamp);
  if (!fitting) nowShard.value = null;
  if (next.stamp.entries <= READ_AT_ONCE) {
    // First what stands already.
    if (fitting) await new Promise<void>((resolve) => inIdleTime(resolve));
    await Promise.all([next.read(), loadFold()]);
    needBeginning(next, new (fold().Standing)(next.log));
    showCasting(next);
  } else {
    if (!fitting) nowShard.value = (await readNowRow(next.db, next.stamp)) as NowShard | null;
    nowOpen(next, null);
    phase.value = 'reading';
    readLongLog(next).catch(fail);
  }
  // Only which casting opens first the next time: nobody waits for that.
  tabletDb.castings.update(id, { openedAt: new Date().toISOString() }).catch(console.error);
}

/** The whole log, and what the screens ask of it, in pieces between which the tablet answers its people. */
async function readLongLog(next: CastingStore): Promise<void> {
  readingLog.value = { done: 0, of: 0 };
  // First the screen, and whatever is typed into it.
  await new Promise<void>((resolve) => inIdleTime(resolve));
  await next.read((done, of) => {
    readingLog.value = { done, of };
  });
  await Promise.all([loadFold(), loadJudge()]);
  const standing = new (fold().Standing)(next.log);
  needBeginning(next, standing);
  const read = fold().viewOf(next.log, judge.value, standing);
  if (read) await inPieces(fold().workOut(read));
  if (opened.value?.store === next) opened.value = { store: next, standing };
  phase.value = 'open';
  readingLog.value = null;
}

/** @throws {Error} where what the casting began with is damaged here, without which nothing can be shown. */
function needBeginning({ damaged, log }: CastingStore, standing: Standing): void {
  if (damaged.length === 0 || fold().viewOf(log, judge.value, standing)) return;
  const places = damaged.map(({ place, fault }) => `${place} (${fault})`).join(', ');
  throw new Error(
    `The beginning of the record, without which the rest cannot be shown, is damaged on this tablet: ${places}. Nothing was deleted. Do not clear this tablet; tell the keepers, and go on at another tablet.`,
  );
}

function nowOpen(store: CastingStore, standing: Standing | null): void {
  opened.peek()?.store.close();
  opened.value = { store, standing };
  ahead.value = null;
}

/** Puts a casting on the screens; the one before is closed. */
export function showCasting(next: CastingStore): void {
  nowOpen(next, new (fold().Standing)(next.log));
  nowShard.value = null;
  phase.value = 'open';
  version.value += 1;
}

function fail(error: unknown): void {
  failure.value = error instanceof Error ? error.message : String(error);
  phase.value = 'failed';
}

/** Keeps a new casting in the tablet's list. */
export async function listCasting(row: CastingRow): Promise<void> {
  await tabletDb.castings.put(row);
  castings.value = await tabletDb.castings.toArray();
}

/** Loads the calculations that work verdicts out again: after the first screen stands. */
export async function loadJudge(): Promise<void> {
  judge.value ??= (await import('../../../shared/logbook/state/derived.ts')).judge;
}
