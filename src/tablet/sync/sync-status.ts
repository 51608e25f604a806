import type { SyncState, WaitReason } from '../../../shared/sync/client-state.ts';
import type { SyncErrorCode } from '../../../shared/sync/errors.ts';

/** What people are told of sync. */
export interface SyncStatus {
  /** Entries still to be sent, and still to be fetched, as far as is known. */
  readonly toSend: number;
  readonly toFetch: number;
  /** How many there were at most since nothing was under way: what the share done is counted from. */
  readonly most: number;
  /** Why nothing goes through, since when, ISO 8601; null when all is in order. */
  readonly trouble: { readonly why: WaitReason; readonly since: string } | null;
  /** Chains that the server refused, and chains of which it gave something unsound. */
  readonly refused: readonly { readonly device: string; readonly why: SyncErrorCode }[];
  readonly unsound: readonly string[];
  /** When the server last said something that helped, ISO 8601. */
  readonly contactAt: string | null;
}

export const firstStatus: SyncStatus = {
  toSend: 0,
  toFetch: 0,
  most: 0,
  trouble: null,
  refused: [],
  unsound: [],
  contactAt: null,
};

/** @param at the time now, ISO 8601 */
export function statusAfter(before: SyncStatus, state: SyncState, lacking: number, at: string): SyncStatus {
  const { phase } = state;
  const toSend = phase.at === 'pushing' ? phase.sent.length + phase.rest.length : 0;
  const toFetch = phase.at === 'idle' ? 0 : lacking;
  const left = toSend + toFetch;
  return {
    toSend,
    toFetch,
    most: left === 0 ? 0 : Math.max(before.most, left),
    trouble: troubleAfter(before.trouble, state, at),
    refused: Object.entries(state.resting).map(([device, { why }]) => ({ device, why })),
    unsound: state.unsound,
    contactAt: state.failures === 0 && phase.at !== 'asking-heads' ? at : before.contactAt,
  };
}

function troubleAfter(before: SyncStatus['trouble'], state: SyncState, at: string): SyncStatus['trouble'] {
  const { phase } = state;
  if (phase.at === 'waiting') return { why: phase.why, since: before?.since ?? at };
  // While it tries again, what was wrong is still what is wrong.
  return state.failures === 0 ? null : before;
}
