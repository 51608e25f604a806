import Dexie, { type EntityTable, type Table } from 'dexie';
import type { Clock } from '../../../shared/logbook/clock.ts';
import type { Head } from '../../../shared/logbook/entry.ts';

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

/** One entry as it came: its canonical text is the record, the rest is for finding it. */
export interface EntryRow {
  hash: string;
  device: string;
  seq: number;
  text: string;
}

/** Where this tablet's own chain stands; written in the transaction of every save. */
export interface ChainRow {
  id: 'own';
  head: Head | null;
  seen: Record<string, Head>;
  clock: Clock;
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
}

/** Wrong PINs of a person on this tablet, kept so that a restart does not forget them. */
export interface PinGuardRow {
  person: string;
  failures: number;
  /** No try before this time, ms. */
  waitUntil: number;
}

/** Everything of one casting on this tablet. */
export class CastingDatabase extends Dexie {
  declare entries: EntityTable<EntryRow, 'hash'>;
  declare chain: EntityTable<ChainRow, 'id'>;
  declare keys: EntityTable<TabletKeyRow, 'id'>;
  declare personKeys: EntityTable<PersonKeyRow, 'publicKey'>;
  declare pinGuards: EntityTable<PinGuardRow, 'person'>;
  declare drafts: EntityTable<{ key: string; value: unknown }, 'key'>;
  /** Own entries that are not yet known to lie elsewhere too. */
  declare outbox: Table<{ hash: string; savedAt: string }, string>;

  constructor(readonly casting: string) {
    super(`lehrbook-${casting}`, { chromeTransactionDurability: 'strict' });
    this.version(1).stores({
      entries: 'hash, [device+seq]',
      chain: 'id',
      keys: 'id',
      personKeys: 'publicKey, person',
      pinGuards: 'person',
      drafts: 'key',
      outbox: 'hash',
    });
  }
}
