import { readBatch, tipsOf, writeBatch } from './batch.ts';
import type { Answer, Phase, Request, SyncEffect, SyncEvent, SyncState, WaitReason } from './client-state.ts';
import { isSyncErrorCode, type SyncErrorCode, syncErrors } from './errors.ts';
import { ANSWER_WITHIN_ms, BATCH_ENTRIES, BATCH_LENGTH, FIRST_WAIT_ms, LONGEST_WAIT_ms } from './limits.ts';
import { missingHere, missingThere } from './missing.ts';
import type { ChainView, Heads, ReadEntry, StoredEntry } from './port.ts';

export interface SyncSettings {
  readonly casting: string;
  /** This tablet. */
  readonly device: string;
  /** How soon to look again when all is in order; null when nobody looks at the screen. */
  readonly poll_ms: number | null;
  /** Entries of one answer that are taken. */
  readonly mostTaken: number;
  readonly read: ReadEntry;
}

/** What a step may look at. The log is read-only; `random` is at least 0 and below 1. */
export interface Surroundings {
  readonly settings: SyncSettings;
  readonly view: ChainView;
  readonly random: () => number;
}

export interface Step {
  readonly state: SyncState;
  readonly effects: readonly SyncEffect[];
}

/** A rest or a sweep that did not help is tried again after 4, 8, 16 … passes, at most after so many. */
const LONGEST_REST = 1024;
const restAfter = (times: number): number => Math.min(4 * 2 ** times, LONGEST_REST);

/**
 * The tablet's side of sync: one step from an event. A pass asks for the heads, sends what the server lacks, takes what
 * is lacking here, and ends when neither lacks anything. It can be broken off anywhere: all that matters is the log, and
 * the next pass begins with the heads again.
 */
export function step(state: SyncState, event: SyncEvent, at: Surroundings): Step {
  switch (event.on) {
    case 'start':
      return onStart(state);
    case 'woke':
      return event.key === state.alarm ? onWoke(state, at) : { state, effects: [] };
    default:
      return event.request === state.request ? onAnswer(state, event, at) : { state, effects: [] };
  }
}

function onStart(state: SyncState): Step {
  const { phase } = state;
  const mayBegin = phase.at === 'idle' || (phase.at === 'waiting' && phase.why !== 'too-many-requests');
  return mayBegin ? beginPass(state) : { state: { ...state, again: true }, effects: [] };
}

function onWoke(state: SyncState, at: Surroundings): Step {
  const { phase } = state;
  if (phase.at === 'idle' || phase.at === 'waiting') return beginPass(state);
  // What is being stored here ends by itself: it is no answer that can be lost.
  return phase.at === 'taking' ? { state, effects: [] } : wait(state, 'no-answer', at);
}

function onAnswer(state: SyncState, event: Exclude<SyncEvent, { on: 'start' | 'woke' }>, at: Surroundings): Step {
  const { phase } = state;
  if (event.on === 'taken') return phase.at === 'taking' ? onTaken(state, phase, at) : { state, effects: [] };
  if (event.on === 'not-taken') return phase.at === 'taking' ? wait(state, 'storage-full', at) : { state, effects: [] };
  if (phase.at === 'idle' || phase.at === 'waiting' || phase.at === 'taking') return { state, effects: [] };
  if (event.on === 'no-answer') return wait(state, 'no-answer', at);
  const { answer } = event;
  if (answer.of === 'refusal') return onRefusal(state, answer, at);
  if (phase.at === 'asking-heads' && answer.of === 'heads') return onHeads(state, answer.heads, at);
  if (phase.at === 'pushing' && answer.of === 'push') return onPushed(state, phase, at);
  if (phase.at === 'pulling' && answer.of === 'pull') return onPulled(state, answer, at);
  return wait(state, 'unknown-answer', at);
}

function beginPass(state: SyncState): Step {
  const { sweep } = state;
  const resting = Object.entries(state.resting).map(([d, rest]) => [d, { ...rest, passes: rest.passes - 1 }] as const);
  const rested: SyncState = {
    ...state,
    again: false,
    unsound: [],
    batchEntries: Math.min(2 * state.batchEntries, BATCH_ENTRIES),
    resting: Object.fromEntries(resting),
    sweep: { ...sweep, isUnderWay: false, rest: Math.max(0, sweep.rest - 1) },
  };
  return ask(rested, { at: 'asking-heads' }, { to: 'heads' });
}

function ask(state: SyncState, phase: Phase, what: Request): Step {
  const request = state.request + 1;
  const alarm = state.alarm + 1;
  return {
    state: { ...state, phase, request, alarm },
    effects: [
      { do: 'ask', request, what },
      { do: 'wake', key: alarm, in_ms: ANSWER_WITHIN_ms },
    ],
  };
}

function onHeads(state: SyncState, theirs: Heads, at: Surroundings): Step {
  return proceed({ ...state, theirs }, at);
}

/** The next thing to do, by what both sides have: send, then take, then rest. */
function proceed(state: SyncState, at: Surroundings): Step {
  const theirs = state.theirs ?? {};
  const skipped = new Set(Object.entries(state.resting).flatMap(([device, r]) => (r.passes > 0 ? [device] : [])));
  const missing = missingThere(at.view, theirs, skipped);
  if (missing.length > 0) return push(state, missing, at);
  const lacking = missingHere(at.view, theirs);
  if (Object.keys(lacking).length > 0) return pull(state, lacking, at);
  return finish({ ...state, sweep: { isUnderWay: false, rest: 0, times: 0 } }, at);
}

function push(state: SyncState, missing: readonly string[], { view }: Surroundings): Step {
  const sent: StoredEntry[] = [];
  let room = BATCH_LENGTH;
  for (const hash of missing) {
    const text = view.text(hash);
    const entry: StoredEntry = { ...view.get(hash)!, text };
    room -= text.length;
    const isOtherChain = state.apart && sent.length > 0 && sent[0]!.device !== entry.device;
    if (sent.length >= state.batchEntries || (room < 0 && sent.length > 0) || isOtherChain) break;
    sent.push(entry);
  }
  const phase: Phase = { at: 'pushing', sent, rest: missing.slice(sent.length) };
  return ask(state, phase, { to: 'push', text: writeBatch(sent) });
}

function onPushed(state: SyncState, { sent, rest }: Phase & { at: 'pushing' }, at: Surroundings): Step {
  const moved: SyncState = {
    ...state,
    failures: 0,
    gapAt: null,
    theirs: withEntries(state.theirs ?? {}, sent),
    resting: withoutChains(state.resting, sent),
  };
  return rest.length > 0 ? push(moved, rest, at) : proceed({ ...moved, apart: false }, at);
}

/** What the other side has after it took these. */
function withEntries(theirs: Heads, sent: readonly StoredEntry[]): Heads {
  const followed = new Set(sent.map((e) => e.prev));
  const moved: Record<string, Heads[string]> = { ...theirs };
  for (const [device, tips] of Object.entries(tipsOf(sent)))
    moved[device] = [...(theirs[device] ?? []).filter(([, hash]) => !followed.has(hash)), ...tips];
  return moved;
}

function pull(state: SyncState, lacking: Heads, { settings: { device } }: Surroundings): Step {
  const without = Object.hasOwn(lacking, device) ? null : device;
  return ask(state, { at: 'pulling' }, { to: 'pull', after: state.cursor, without });
}

function onPulled(state: SyncState, answer: Answer & { of: 'pull' }, at: Surroundings): Step {
  const { casting, mostTaken, read } = at.settings;
  const batch = answer.batch ?? readBatch(answer.text, casting, mostTaken, read);
  if ('code' in batch) return wait(state, batch.code, at);
  const { last, count } = answer;
  // A server that has more and gives nothing would be asked for ever.
  if (last <= state.cursor && last < count) return wait(state, 'unknown-answer', at);
  const unsound = [...new Set([...state.unsound, ...batch.faults.map((f) => f.device ?? '')])];
  const request = state.request + 1;
  return {
    state: { ...state, request, failures: 0, unsound, phase: { at: 'taking', last, count } },
    effects: [{ do: 'take', request, entries: batch.entries }],
  };
}

function onTaken(state: SyncState, { last, count }: Phase & { at: 'taking' }, at: Surroundings): Step {
  const moved: SyncState = { ...state, cursor: last };
  const lacking = missingHere(at.view, state.theirs ?? {});
  if (Object.keys(lacking).length === 0 || last < count) return proceed(moved, at);
  // All that arrived was looked at, and a head that the server has is still not here: look through it from the start.
  const { sweep } = state;
  if (!sweep.isUnderWay && sweep.rest === 0)
    return pull({ ...moved, cursor: 0, sweep: { ...sweep, isUnderWay: true } }, lacking, at);
  const failed = sweep.isUnderWay ? { isUnderWay: false, rest: restAfter(sweep.times), times: sweep.times + 1 } : sweep;
  return finish({ ...moved, sweep: failed }, at);
}

/** The end of a pass. */
function finish(state: SyncState, { settings: { poll_ms } }: Surroundings): Step {
  const done: SyncState = { ...state, failures: 0, phase: { at: 'idle' }, alarm: state.alarm + 1 };
  if (state.again) return beginPass(done);
  return {
    state: done,
    effects: poll_ms === null ? [] : [{ do: 'wake', key: done.alarm, in_ms: poll_ms }],
  };
}

function onRefusal(state: SyncState, answer: Answer & { of: 'refusal' }, at: Surroundings): Step {
  const { code, device, retryAfter } = answer;
  if (!isSyncErrorCode(code)) return wait(state, 'unknown-answer', at);
  const { phase } = state;
  const { next } = syncErrors[code];
  if (phase.at !== 'pushing' || next === 'later' || next === 'join' || next === 'stop')
    return wait(state, code, at, (retryAfter ?? 0) * 1000);
  const chains = new Set(phase.sent.map((e) => e.device));
  if (next === 'heads') {
    const isAgain = device !== undefined && device === state.gapAt;
    return isAgain ? proceed(rest(state, device, code), at) : wait({ ...state, gapAt: device ?? null }, code, at);
  }
  if (next === 'smaller' && phase.sent.length > 1) {
    const half = Math.floor(phase.sent.length / 2);
    return push({ ...state, batchEntries: half }, [...phase.sent.map((e) => e.hash), ...phase.rest], at);
  }
  const atFault = chains.size === 1 ? phase.sent[0]!.device : device;
  if (atFault !== undefined && chains.has(atFault)) return proceed(rest(state, atFault, code), at);
  return proceed({ ...state, apart: true }, at);
}

function rest(state: SyncState, device: string, why: SyncErrorCode): SyncState {
  const times = state.resting[device]?.times ?? 0;
  return { ...state, resting: { ...state.resting, [device]: { why, passes: restAfter(times), times: times + 1 } } };
}

/** Stands back after a failure: for a random time below a bound that doubles, and no less than the server asked for. */
function wait(state: SyncState, why: WaitReason, { random }: Surroundings, least_ms = 0): Step {
  const next = isSyncErrorCode(why) ? syncErrors[why].next : 'later';
  const isHopeless = next === 'join' || next === 'stop';
  const bound_ms = isHopeless ? LONGEST_WAIT_ms : Math.min(FIRST_WAIT_ms * 2 ** state.failures, LONGEST_WAIT_ms);
  // At least half the bound: tablets that lost the server together must not come back together, nor at once.
  const in_ms = Math.max(least_ms, (bound_ms / 2) * (1 + random()));
  const alarm = state.alarm + 1;
  return {
    state: {
      ...state,
      alarm,
      failures: state.failures + 1,
      phase: { at: 'waiting', why },
      // Whatever is still under way is of no more interest.
      request: state.request + 1,
    },
    effects: [{ do: 'wake', key: alarm, in_ms }],
  };
}

function withoutChains(resting: SyncState['resting'], sent: readonly StoredEntry[]): SyncState['resting'] {
  const chains = new Set(sent.map((e) => e.device));
  return Object.fromEntries(Object.entries(resting).filter(([device]) => !chains.has(device)));
}
