import * as z from 'zod/mini';
import { canonicalJson, isCanonical, sha256Hex, shortHash } from './canonical.ts';
import { plainlyFits } from './plainly-fits.ts';

/** The version of the envelope. It goes up only if an older build must not read it as its own. */
export const FORMAT = 1;

/** An entry larger than this, in UTF-16 units of its canonical text, is refused. */
export const ENTRY_MAX_LENGTH = 1_000_000;

const HASH = /^[0-9a-f]{64}$/;
const SHORT_ID = /^[0-9a-f]{32}$/;
const PUBLIC_KEY = /^[0-9a-f]{130}$/;
const SIGNATURE = /^[0-9a-f]{128}$/;
const TIME = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?(Z|[+-]\d\d:\d\d)$/;

const matching = (pattern: RegExp) => z.string().check(z.regex(pattern));
export const hash = () => matching(HASH);
export const shortId = () => matching(SHORT_ID);
/** An uncompressed P-256 public key, 65 bytes in hex. */
export const publicKey = () => matching(PUBLIC_KEY);
export const time = () => matching(TIME);

export const headSchema = z.tuple([z.int().check(z.gte(1)), hash()]);

/**
 * One line of the log. Identity is (casting, device, seq); `prev` ties it to the entry before it in its chain;
 * `seen` lists the heads of other chains that the device merged since its own previous entry.
 */
export const entrySchema = z.strictObject({
  format: z.literal(FORMAT),
  casting: shortId(),
  device: shortId(),
  seq: z.int().check(z.gte(1)),
  /** SHA-256 of the entry before; null for the first of a chain. */
  prev: z.nullable(hash()),
  seen: z.record(shortId(), headSchema),
  /** Hybrid logical clock: milliseconds and counter. */
  clock: z.tuple([z.int().check(z.gte(0)), z.int().check(z.gte(0))]),
  /** When it was seen and when it was written, ISO 8601 with offset. */
  observedAt: time(),
  recordedAt: time(),
  /** The person who recorded it. */
  by: shortId(),
  kind: z.string().check(z.minLength(1), z.maxLength(40)),
  body: z.record(z.string(), z.unknown()),
  /** ECDSA P-256 (r ‖ s, hex) over the canonical entry without this key, and the public key it verifies with. */
  signature: z.optional(z.strictObject({ key: publicKey(), value: matching(SIGNATURE) })),
});

/** A first sync asks it of a hundred thousand entries: what it does not pass, the schema decides. */
const isPlainlySound = plainlyFits(entrySchema);

export type Entry = z.infer<typeof entrySchema>;
export type UnsignedEntry = Omit<Entry, 'signature'>;
export type Head = z.infer<typeof headSchema>;

/** The hash that the next entry's `prev` carries: over the whole canonical entry, signature included. */
export const entryHash = (entry: Entry): string => sha256Hex(canonicalJson(entry));

/** The text that a signature covers. */
export function signedText(entry: Entry | UnsignedEntry): string {
  const { signature: _, ...rest } = entry as Entry;
  return canonicalJson(rest);
}

const BEFORE_SIGNATURE = ',"signature":{';

/**
 * The same of an entry's canonical text. Keys are sorted and `signature` is the last; what stands in it are two texts of
 * hex digits, so that the last of these marks is the envelope's own.
 */
export const signedPart = (text: string): string => `${text.slice(0, text.lastIndexOf(BEFORE_SIGNATURE))}}`;

/** A casting is named by its genesis body. */
export const castingId = (genesisBody: object): string => shortHash(sha256Hex(canonicalJson(genesisBody)));

/** Every text in normal form C, no undefined, no −0: what goes into an entry passes through here first. */
export function normalised<T>(value: T): T {
  return JSON.parse(canonicalJson(value).normalize('NFC')) as T;
}

export type EnvelopeFault = 'not canonical' | 'too large' | 'wrong casting' | 'wrong genesis';

/**
 * Reads one canonical line. Refuses only what breaks the envelope; a body that this build cannot read passes.
 * `prev` is checked when the chain is walked, since the entry before may arrive later.
 */
export function readEntry(text: string, casting: string): { entry: Entry; hash: string } | { fault: EnvelopeFault } {
  if (text.length > ENTRY_MAX_LENGTH) return { fault: 'too large' };
  const entry = parseCanonical(text);
  if (!entry) return { fault: 'not canonical' };
  if (entry.casting !== casting) return { fault: 'wrong casting' };
  if (entry.kind === 'genesis' && castingId(entry.body) !== casting) return { fault: 'wrong genesis' };
  return { entry, hash: sha256Hex(text) };
}

function parseCanonical(text: string): Entry | undefined {
  try {
    const value: unknown = JSON.parse(text);
    const entry = isPlainlySound(value) ? (value as Entry) : entrySchema.safeParse(value).data;
    return entry && isCanonical(value, text) && text.normalize('NFC') === text ? entry : undefined;
  } catch {
    return undefined;
  }
}
