import Dexie, { type EntityTable, type Table } from 'dexie';
import type { Clock } from '../../../shared/logbook/clock.ts';
import type { Head } from '../../../shared/logbook/entry.ts';
import type { OutlineColumns } from './outlines.ts';

/** What the tablet knows of its castings, and its own settings. */
export class TabletDatabase extends Dexie {
  declare castings: EntityTable<CastingRow, 'id'>;
  declare settings: EntityTable<{ key: string; value: unknown }, 'key'>;

  constructor() {
    super('lehrbook', { chromeTransactionDurability: 'strict' });
    this.version(1).stores({ castings: 'id', settings: 'key' });
  }
}

export interface CastingRow {
  id: string;
  name: string;
  practice: boolean;
  /** When it was last opened here, ISO 8601. */
  openedAt: string;
}

/** One entry of the open tail as it came: its canonical text is the record, the rest is for finding it. */
export interface EntryRow {
  /** Place in the tail, given by the database. */
  n?: number;
  hash: string;
  device: string;
  seq: number;
  text: string;
}

/** A sealed run of entries, in the order in which they came to this tablet. */
export interface SegmentRow {
  n?: number;
  count: number;
  /** SHA-256 of each line, 32 bytes each, as they were when the run was sealed. */
  hashes: Uint8Array<ArrayBuffer>;
  /** What the check of each line's signature gave then: 0 none, 1 good, 2 bad. */
  signatures: Uint8Array<ArrayBuffer>;
  /** The canonical lines, gzipped; or a batch of sync as it came, whose lines leave out what follows from those before. */
  gz: Uint8Array<ArrayBuffer>;
  isBatch?: true;
  /** What the log ties and files the lines by: with it they are read only when somebody asks. */
  outlines?: OutlineColumns;
  /** SHA-256 of `gz`: by it damage is found without unzipping. Rows of older builds have none. */
  sum?: Uint8Array<ArrayBuffer>;
}

/** Where this tablet's own chain stands; written in the transaction of every save. */
export interface ChainRow {
  id: 'own';
  head: Head | null;
  seen: Record<string, Head>;
  clock: Clock;
  /** Up to which place of the chain the entries are known to lie elsewhere too: what is beyond waits to be carried. */
  carried: number;
  /** How many entries, of all tablets, are stored here. */
  entries: number;
}

/** The tablet's key pair, and the key that wraps people's keys; neither private part can be exported. */
export interface TabletKeyRow {
  id: 'tablet';
  publicKey: string;
  signing: CryptoKey;
  wrapping: CryptoKey;
}

/** A person's private key, encrypted with their PIN and then with the tablet's own key. */
export interface PersonKeyRow {
  publicKey: string;
  person: string;
  salt: Uint8Array<ArrayBuffer>;
  pinIv: Uint8Array<ArrayBuffer>;
  tabletIv: Uint8Array<ArrayBuffer>;
  wrapped: ArrayBuffer;
  /** Signed with it while the PIN was at hand: that it is this person's, for the keeper who vouches. */
  proof?: string;
}

/** Wrong PINs of a person on this tablet, kept so that a restart does not forget them. */
export interface PinGuardRow {
  person: string;
  failures: number;
  /** No try before this time, ms. */
  waitUntil: number;
}

/** The server that this tablet carries the casting's entries to, and how far it has come. */
export interface ServerRow {
  id: 'server';
  /** Where it answers, as an origin: `https://lehrbook.internal:8080`. */
  address: string;
  token: string;
  /** How far the server's arrivals were looked at; put in the transaction that stores what was found. */
  cursor: number;
  /** When the server last had all that is here, ISO 8601; null before the first time. */
  carriedAt: string | null;
}

/** State worked out from the log, with the stamp of the log and of the build that worked it out. */
export interface ShardRow {
  id: 'now';
  stamp: string;
  state: unknown;
}

/** A photo, its small one or a logger's file: whole, and its SHA-256 is its name. */
export interface BlobRow {
  hash: string;
  bytes: Uint8Array<ArrayBuffer>;
  /** The address of the server that is known to have it; empty while none is. */
  sentTo: string;
}

/** That the samples of a logger's file, read under one mapping, lie here; they can always be made again from the file. */
export interface SampleFileRow {
  id: string;
  channels: string[];
  /** How many levels of thinning there are, the samples themselves among them. */
  levels: number;
  rows: number;
  from_ms: number;
  to_ms: number;
  /** The silence that is a gap. */
  gap_ms: number;
}

/** One level of one channel of a logger's file, or its times. */
export interface SampleRow {
  /** `file/level/channel`; the times have no channel. */
  key: string;
  file: string;
  /** First and last instants of the times; the same array where they are the samples themselves. */
  times?: { from: Float64Array<ArrayBuffer>; to: Float64Array<ArrayBuffer> };
  values?: { least: Float32Array<ArrayBuffer>; greatest: Float32Array<ArrayBuffer> };
}

/** Everything of one casting on this tablet. */
export class CastingDatabase extends Dexie {
  declare tail: Table<EntryRow, number>;
  declare segments: Table<SegmentRow, number>;
  declare chain: EntityTable<ChainRow, 'id'>;
  declare keys: EntityTable<TabletKeyRow, 'id'>;
  declare personKeys: EntityTable<PersonKeyRow, 'publicKey'>;
  declare pinGuards: EntityTable<PinGuardRow, 'person'>;
  declare drafts: EntityTable<{ key: string; value: unknown }, 'key'>;
  declare shards: EntityTable<ShardRow, 'id'>;
  declare server: EntityTable<ServerRow, 'id'>;
  declare blobs: EntityTable<BlobRow, 'hash'>;
  declare sampleFiles: EntityTable<SampleFileRow, 'id'>;
  declare samples: EntityTable<SampleRow, 'key'>;
  /** Blobs on their way here: what has come of them, from the start. */
  declare arriving: EntityTable<Omit<BlobRow, 'sentTo'>, 'hash'>;
  /** A row that only takes room: given up first, so that the last entries of a shift still fit. */
  declare ballast: EntityTable<{ id: 'ballast'; bytes: Uint8Array<ArrayBuffer> }, 'id'>;

  constructor(readonly casting: string) {
    super(`lehrbook-${casting}`, { chromeTransactionDurability: 'strict' });
    this.version(1).stores({
      tail: '++n',
      segments: '++n',
      chain: 'id',
      keys: 'id',
      personKeys: 'publicKey, person',
      pinGuards: 'person',
      drafts: 'key',
      ballast: 'id',
    });
    // The screens' state, kept beside the log that it was worked out from; it can always be made again.
    this.version(2)
      .stores({ shards: 'id' })
      .upgrade(async (change) => {
        let entries = await change.table('tail').count();
        await change.table('segments').each((row: SegmentRow) => {
          entries += row.count;
        });
        await change.table('chain').toCollection().modify({ entries });
      });
    this.version(3).stores({ server: 'id' });
    // Photos, and logger files.
    this.version(4).stores({ blobs: 'hash, sentTo', arriving: 'hash' });
    // What was read from logger files.
    this.version(5).stores({ blobs: 'hash, sentTo', sampleFiles: 'id', samples: 'key, file' });
  }
}
