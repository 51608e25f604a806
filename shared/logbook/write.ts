import { type Clock, tick } from './clock.ts';
import type { Signer } from './crypto.ts';
import { type Entry, FORMAT, type Head, normalised, signedText, type UnsignedEntry } from './entry.ts';
import { type Body, type Kind, kinds } from './kinds.ts';

/** Where a chain stands: what the next entry builds on. */
export interface ChainState {
  readonly casting: string;
  readonly device: string;
  /** Null before the first entry. */
  readonly head: Head | null;
  /** Heads of other chains merged since the last own entry. */
  readonly seen: Readonly<Record<string, Head>>;
  readonly clock: Clock;
}

/** What a person did, before it is an entry. */
export interface Act<K extends Kind = Kind> {
  readonly kind: K;
  readonly body: Body<K>;
  readonly by: string;
  readonly observedAt: string;
  readonly recordedAt: string;
}

/**
 * Makes the next entry of a chain, unsigned.
 * @throws {Error} when the body does not fit its kind: a programmer's mistake, found before anything is written.
 */
export function nextEntry<K extends Kind>(chain: ChainState, act: Act<K>): UnsignedEntry {
  const fit = kinds[act.kind].safeParse(act.body);
  if (!fit.success)
    throw new Error(`The body does not fit the kind ${act.kind}: ${fit.error.issues[0]?.path.join('.')}`);
  const entry: UnsignedEntry = {
    format: FORMAT,
    casting: chain.casting,
    device: chain.device,
    seq: (chain.head?.[0] ?? 0) + 1,
    prev: chain.head?.[1] ?? null,
    seen: { ...chain.seen },
    clock: [...tick(chain.clock, Date.parse(act.recordedAt))] as [number, number],
    observedAt: act.observedAt,
    recordedAt: act.recordedAt,
    by: act.by,
    kind: act.kind,
    body: act.body as Record<string, unknown>,
  };
  return normalised(entry);
}

/** Signs an entry with its recorder's key. */
export async function signEntry(entry: UnsignedEntry, signer: Signer): Promise<Entry> {
  return { ...entry, signature: { key: signer.publicKey, value: await signer.sign(signedText(entry)) } };
}
