import { canonicalJson, sha256Hex } from '../../../shared/logbook/canonical.ts';
import { adopt, type Clock } from '../../../shared/logbook/clock.ts';
import { checkSignature, type Signer } from '../../../shared/logbook/crypto.ts';
import { type Entry, type EnvelopeFault, type Head, readEntry } from '../../../shared/logbook/entry.ts';
import type { Kind } from '../../../shared/logbook/kinds.ts';
import { type Kept, Log, type SignatureCheck } from '../../../shared/logbook/log.ts';
import { type Act, type ChainState, nextEntry, signEntry } from '../../../shared/logbook/write.ts';
import { CastingDatabase, type ChainRow, type EntryRow, type TabletKeyRow } from './database.ts';
import { deviceOf, webVerifier } from './keys.ts';

/** An act, and the signer where its kind needs one. */
export interface SignedAct<K extends Kind = Kind> extends Act<K> {
  readonly signer?: Signer;
}

/** A stored line that no longer reads as it was written. */
export interface DamagedRow {
  readonly hash: string;
  readonly device: string;
  readonly seq: number;
  readonly fault: EnvelopeFault | 'wrong hash';
}

/**
 * One casting on this tablet: the only writer of its database. A save is one transaction over entries, chain head and
 * outbox; it is told as saved after the transaction completed.
 */
export class CastingStore {
  readonly log: Log;
  readonly device: string;
  readonly damaged: DamagedRow[] = [];
  private chain: ChainRow = { id: 'own', head: null, seen: {}, clock: [0, 0] };
  private queue: Promise<unknown> = Promise.resolve();

  private constructor(
    readonly db: CastingDatabase,
    readonly tabletKey: TabletKeyRow,
    private readonly changed: () => void,
  ) {
    this.log = new Log(db.casting);
    this.device = deviceOf(tabletKey.publicKey);
  }

  /** Makes the database of a new casting; the first save is its genesis. */
  static async create(casting: string, tabletKey: TabletKeyRow, changed: () => void): Promise<CastingStore> {
    const db = new CastingDatabase(casting);
    await db.keys.add(tabletKey);
    return new CastingStore(db, tabletKey, changed);
  }

  /** Makes the database of a casting whose entries exist already: those of this tablet's own chain and of others. */
  static async createFrom(
    casting: string,
    tabletKey: TabletKeyRow,
    lines: readonly string[],
    changed: () => void,
  ): Promise<CastingStore> {
    const store = await CastingStore.create(casting, tabletKey, changed);
    await store.receive(lines);
    const head = store.log.head(store.device);
    const last = head && store.log.get(head[1])!.entry;
    if (last) {
      store.chain = { id: 'own', head, seen: {}, clock: last.clock };
      const own = [...store.log.all()].filter((kept) => kept.entry.device === store.device);
      await store.db.chain.put(store.chain);
      await store.db.outbox.bulkAdd(own.map((kept) => ({ hash: kept.hash, savedAt: kept.entry.recordedAt })));
    }
    return store;
  }

  /** @throws {Error} when this tablet holds no key for the casting. */
  static async open(casting: string, changed: () => void): Promise<CastingStore> {
    const db = new CastingDatabase(casting);
    const tabletKey = await db.keys.get('tablet');
    if (!tabletKey) throw new Error('This tablet holds no key for the casting');
    const store = new CastingStore(db, tabletKey, changed);
    await store.load();
    return store;
  }

  close(): void {
    this.db.close();
  }

  /**
   * Writes acts of this tablet, in order, all or none.
   * @returns what was kept, after the transaction completed.
   */
  save(acts: readonly SignedAct[]): Promise<Kept[]> {
    const saving = this.queue.then(() => this.write(acts));
    this.queue = saving.catch(() => undefined);
    return saving;
  }

  /**
   * Takes entries of other tablets, as canonical lines.
   * @returns how many were new, and which lines were refused.
   */
  receive(lines: readonly string[]): Promise<{ added: number; refused: EnvelopeFault[] }> {
    const receiving = this.queue.then(() => this.merge(lines));
    this.queue = receiving.catch(() => undefined);
    return receiving;
  }

  private async load(): Promise<void> {
    const [rows, chain] = await Promise.all([this.db.entries.toArray(), this.db.chain.get('own')]);
    if (chain) this.chain = chain;
    this.damaged.length = 0;
    await Promise.all(rows.map((row) => this.take(row)));
    this.changed();
  }

  /** Reads a stored row back; what does not read as it was written is named and left out. */
  private async take(row: EntryRow): Promise<void> {
    const read = readEntry(row.text, this.db.casting);
    const fault = 'fault' in read ? read.fault : read.hash === row.hash ? null : 'wrong hash';
    if (fault !== null || 'fault' in read) {
      this.damaged.push({ hash: row.hash, device: row.device, seq: row.seq, fault: fault ?? 'not canonical' });
      return;
    }
    this.log.add(read.entry, read.hash, await checkSignature(read.entry, webVerifier));
  }

  private async write(acts: readonly SignedAct[]): Promise<Kept[]> {
    for (let attempt = 0; attempt < 5; attempt++) {
      const made = await this.make(acts);
      if (await this.commit(made)) {
        for (const { entry, hash, signature } of made) this.log.add(entry, hash, signature);
        this.changed();
        return made.map(({ hash }) => this.log.get(hash)!);
      }
      // Another window of this tablet wrote in between: read what it wrote, and build on that.
      await this.load();
    }
    throw new Error('Another window of this tablet keeps writing; nothing was saved');
  }

  private async make(
    acts: readonly SignedAct[],
  ): Promise<{ entry: Entry; hash: string; signature: SignatureCheck; row: EntryRow }[]> {
    const made = [];
    let state: ChainState = { ...this.chain, casting: this.db.casting, device: this.device };
    for (const { signer, ...act } of acts) {
      const unsigned = nextEntry(state, act);
      const entry: Entry = signer ? await signEntry(unsigned, signer) : unsigned;
      const text = canonicalJson(entry);
      const hash = sha256Hex(text);
      const row = { hash, device: entry.device, seq: entry.seq, text };
      made.push({ entry, hash, signature: signer ? ('good' as const) : ('none' as const), row });
      state = { ...state, head: [entry.seq, hash], seen: {}, clock: entry.clock };
    }
    return made;
  }

  /** False when the chain has moved on since the entries were made. */
  private async commit(made: readonly { entry: Entry; hash: string; row: EntryRow }[]): Promise<boolean> {
    const last = made.at(-1)!;
    const next: ChainRow = { id: 'own', head: [last.entry.seq, last.hash], seen: {}, clock: last.entry.clock };
    const { db } = this;
    const moved = await db.transaction('rw', db.entries, db.chain, db.outbox, async () => {
      const stored = await db.chain.get('own');
      if (!sameHead(stored?.head ?? null, this.chain.head)) return true;
      await db.entries.bulkAdd(made.map((m) => m.row));
      await db.chain.put(next);
      await db.outbox.bulkAdd(made.map((m) => ({ hash: m.hash, savedAt: m.entry.recordedAt })));
      return false;
    });
    if (!moved) this.chain = next;
    return !moved;
  }

  private async merge(lines: readonly string[]): Promise<{ added: number; refused: EnvelopeFault[] }> {
    const refused: EnvelopeFault[] = [];
    const fresh: { entry: Entry; hash: string; signature: SignatureCheck; row: EntryRow }[] = [];
    for (const text of lines) {
      const read = readEntry(text, this.db.casting);
      if ('fault' in read) refused.push(read.fault);
      else if (!this.log.get(read.hash) && !fresh.some((f) => f.hash === read.hash)) {
        const signature = await checkSignature(read.entry, webVerifier);
        fresh.push({
          ...read,
          signature,
          row: { hash: read.hash, device: read.entry.device, seq: read.entry.seq, text },
        });
      }
    }
    if (fresh.length > 0) await this.keepReceived(fresh);
    return { added: fresh.length, refused };
  }

  private async keepReceived(
    fresh: readonly { entry: Entry; hash: string; signature: SignatureCheck; row: EntryRow }[],
  ): Promise<void> {
    for (const { entry, hash, signature } of fresh) this.log.add(entry, hash, signature);
    const clock = fresh.reduce<Clock>((c, { entry }) => adopt(c, entry.clock, Date.now()), this.chain.clock);
    const next: ChainRow = { ...this.chain, clock, seen: { ...this.chain.seen, ...this.newlySeen(fresh) } };
    const { db } = this;
    await db.transaction('rw', db.entries, db.chain, async () => {
      await db.entries.bulkPut(fresh.map((f) => f.row));
      await db.chain.put(next);
    });
    this.chain = next;
    this.changed();
  }

  /** The heads of other chains that moved: what the next own entry says that it has seen. */
  private newlySeen(fresh: readonly { entry: Entry }[]): Record<string, Head> {
    const devices = new Set(fresh.map((f) => f.entry.device).filter((d) => d !== this.device));
    return Object.fromEntries([...devices].flatMap((d) => (this.log.head(d) ? [[d, this.log.head(d)!]] : [])));
  }
}

const sameHead = (a: Head | null, b: Head | null): boolean => a?.[0] === b?.[0] && a?.[1] === b?.[1];
