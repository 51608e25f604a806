import type { ReadBatch } from './batch.ts';
import type { SyncErrorCode } from './errors.ts';
import { BATCH_ENTRIES } from './limits.ts';
import type { Heads, StoredEntry } from './port.ts';

/** What a tablet asks the server. */
export type Request =
  | { readonly to: 'heads' }
  | { readonly to: 'push'; readonly text: string }
  | { readonly to: 'pull'; readonly after: number; readonly without: string | null };

/** What the server said; a refusal may carry a code that this build does not know. */
export type Answer =
  | { readonly of: 'heads'; readonly heads: Heads }
  | { readonly of: 'push' }
  | {
      readonly of: 'pull';
      readonly text: string;
      readonly last: number;
      readonly count: number;
      /** Where the page was read on its way here: what it holds, as `readBatch` gives it. Then the text is empty. */
      readonly batch?: ReadBatch | undefined;
    }
  | {
      readonly of: 'refusal';
      readonly code: string;
      readonly device?: string | undefined;
      /** Seconds. */
      readonly retryAfter?: number | undefined;
    };

/** What happens to the machine. Answers name the request they are to: a late or doubled one changes nothing. */
export type SyncEvent =
  /** A save, a network that came back, a screen that came on, or a person who asks. */
  | { readonly on: 'start' }
  | { readonly on: 'woke'; readonly key: number }
  | { readonly on: 'answer'; readonly request: number; readonly answer: Answer }
  | { readonly on: 'no-answer'; readonly request: number }
  /** The entries are kept here for good. */
  | { readonly on: 'taken'; readonly request: number }
  | { readonly on: 'not-taken'; readonly request: number };

/** What the machine wants done. */
export type SyncEffect =
  | { readonly do: 'ask'; readonly request: number; readonly what: Request }
  | { readonly do: 'take'; readonly request: number; readonly entries: readonly StoredEntry[] }
  /** One alarm at a time: a new one takes the place of the last. */
  | { readonly do: 'wake'; readonly key: number; readonly in_ms: number };

/** Why the machine waits. */
export type WaitReason = SyncErrorCode | 'no-answer' | 'storage-full' | 'unknown-answer';

export type Phase =
  | { readonly at: 'idle' }
  | { readonly at: 'asking-heads' }
  | {
      readonly at: 'pushing';
      /** Hashes still to be sent when this batch is through, and the batch under way. */
      readonly rest: readonly string[];
      readonly sent: readonly StoredEntry[];
    }
  | { readonly at: 'pulling' }
  | { readonly at: 'taking'; readonly last: number; readonly count: number }
  | { readonly at: 'waiting'; readonly why: WaitReason };

/** A chain that was refused: it rests for some passes, each time for longer, and is named meanwhile. */
export interface Rest {
  readonly why: SyncErrorCode;
  readonly passes: number;
  readonly times: number;
}

export interface SyncState {
  readonly phase: Phase;
  /** The number of the last request; the answer to any other is late. */
  readonly request: number;
  readonly alarm: number;
  /** How far the server's arrivals were looked at. Kept by the driver; starting again lower costs time alone. */
  readonly cursor: number;
  /** What the server is known to have: what is acknowledged. Null until it was asked. */
  readonly theirs: Heads | null;
  /** Something happened while a pass was under way: another follows at once. */
  readonly again: boolean;
  /** Failures since the last answer that helped. */
  readonly failures: number;
  readonly batchEntries: number;
  /** Whether each chain is sent by itself, to find the one that is refused. */
  readonly apart: boolean;
  /** The chain at which a gap was met last. */
  readonly gapAt: string | null;
  readonly resting: Readonly<Record<string, Rest>>;
  /** Arrivals are looked through from the start when a head stays missing; after it did not help, not for some passes. */
  readonly sweep: { readonly isUnderWay: boolean; readonly rest: number; readonly times: number };
  /** Chains of which the server gave something unsound in the last pass. */
  readonly unsound: readonly string[];
}

export const startState = (cursor = 0): SyncState => ({
  phase: { at: 'idle' },
  request: 0,
  alarm: 0,
  cursor,
  theirs: null,
  again: false,
  failures: 0,
  batchEntries: BATCH_ENTRIES,
  apart: false,
  gapAt: null,
  resting: {},
  sweep: { isUnderWay: false, rest: 0, times: 0 },
  unsound: [],
});
