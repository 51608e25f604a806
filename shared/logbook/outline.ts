import type { Entry } from './entry.ts';
import { type Body, isKind, type Kind, readBody } from './kinds.ts';
import { scopesOf } from './scopes.ts';

/** Whether the signature that an entry carries verifies with the key that it carries. */
export type SignatureCheck = 'none' | 'good' | 'bad';

/**
 * What the log ties and files an entry by. It is worked out once, from the entry and by this build; with it an entry can
 * be kept in a log without its text being read.
 */
export interface Outline {
  readonly hash: string;
  readonly signature: SignatureCheck;
  readonly device: string;
  readonly seq: number;
  readonly prev: string | null;
  readonly seen: Entry['seen'];
  /** Null where this build cannot read the body. */
  readonly kind: Kind | null;
  readonly scopes: readonly string[];
}

/** An entry with its body as this build reads it; the body is empty where it cannot. */
export interface Content {
  readonly entry: Entry;
  readonly kind: Kind | null;
  readonly body: Body<Kind>;
}

export function contentOf(entry: Entry): Content {
  const kind = isKind(entry.kind) ? entry.kind : null;
  const body = kind && readBody(kind, entry.body);
  return body === null ? { entry, kind: null, body: {} as Body<Kind> } : { entry, kind, body };
}

export function outlineOf({ entry, kind, body }: Content, hash: string, signature: SignatureCheck): Outline {
  const { device, seq, prev, seen } = entry;
  return { hash, signature, device, seq, prev, seen, kind, scopes: kind ? scopesOf(kind, body) : [] };
}
