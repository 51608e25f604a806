import type { Generated } from 'kysely';

/** Times are milliseconds since 1970 by the server's clock; they decide about codes and tokens, never about entries. */
export interface Tables {
  schema_version: { version: number };
  /** One row a casting. Its row is what pushes of one casting queue at; `arrivals` numbers entries as they commit. */
  casting: { casting: string; arrivals: number };
  /** Every entry, as its canonical text. Two rows of one (casting, device, seq) are a fork: both are kept. */
  entry: {
    casting: string;
    device: string;
    seq: number;
    hash: string;
    prev: string | null;
    /** The server's own number, per casting, in the order of commits. */
    arrival: number;
    text: string;
  };
  /** The tips of the chains: entries that no entry here follows. More than one of a device is a fork. */
  head: { casting: string; device: string; seq: number; hash: string };
  /** Pages of arrivals that are full, as zipped batches: entries `after` + 1 to `last`. They can always be made again. */
  ready_page: {
    casting: string;
    after: number;
    last: number;
    /** Whose entries are in it, with a blank between. */
    devices: string;
    /** UTF-16 units of text. */
    length: number;
    gz: Buffer;
  };
  token: {
    id: Generated<number>;
    /** SHA-256 of the bearer token, in hex. */
    hash: string;
    casting: string;
    device: string;
    created_at: number;
    revoked_at: number | null;
  };
  code: {
    /** SHA-256 of the code, in hex. */
    hash: string;
    /** The casting that it joins to; null lets the first tablet bring its own. */
    casting: string | null;
    expires_at: number;
    used_at: number | null;
  };
  blob: { casting: string; hash: string; size: number; complete: number };
  blob_part: { casting: string; hash: string; start: number; bytes: Buffer };
}
