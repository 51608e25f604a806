import { canonicalJson, sha256Hex } from '../../../shared/logbook/canonical.ts';
import { adopt, type Clock } from '../../../shared/logbook/clock.ts';
import { checkSignature, type Signer } from '../../../shared/logbook/crypto.ts';
import { type Entry, type EnvelopeFault, type Head, readEntry } from '../../../shared/logbook/entry.ts';
import type { Kind } from '../../../shared/logbook/kinds.ts';
import { type Kept, Log, type SignatureCheck } from '../../../shared/logbook/log.ts';
import type { Outline } from '../../../shared/logbook/outline.ts';
import { type Act, type ChainState, nextEntry, signEntry } from '../../../shared/logbook/write.ts';
import type { ProvenLine } from '../../../shared/sync/file-batch.ts';
import { CastingDatabase, type ChainRow, type EntryRow, type SegmentRow, type TabletKeyRow } from './database.ts';
import { inIdleTime } from './in-idle-time.ts';
import { deviceOf, webVerifier } from './keys.ts';
import { beginNewLogFile } from './new-log-file.ts';
import type { LogStamp } from './now-row.ts';
import { type Damage, type Progress, readLog } from './read-log.ts';
import type { ReceivedRun } from './received-run.ts';
import { addOutlined, outlined, packSegment, SEAL_AT, SEGMENT_SIZE, segmentHashes } from './segments.ts';

/** An act, and the signer where its kind needs one. */
export interface SignedAct<K extends Kind = Kind> extends Act<K> {
  readonly signer?: Signer;
}

interface Made {
  readonly entry: Entry;
  readonly hash: string;
  readonly signature: SignatureCheck;
  readonly row: EntryRow;
}

const emptyChain: ChainRow = { id: 'own', head: null, seen: {}, clock: [0, 0], carried: 0, entries: 0 };

/** Bytes that the ballast row takes, and gives back when the storage is full. */
const BALLAST_BYTES = 2_000_000;

/**
 * One casting on this tablet: the only writer of its database. A save is one transaction over entries, chain head and
 * outbox; it is told as saved after the transaction completed.
 */
export class CastingStore {
  readonly log: Log;
  readonly device: string;
  readonly damaged: Damage[] = [];
  private chain: ChainRow = emptyChain;
  private lastSegment = 0;
  private sealing = false;
  /** One sealing at a time: two would cut a segment short. */
  private sealed: Promise<void> = Promise.resolve();
  /** Whether everything stored is in the log: only then may it be sealed. */
  private whole = false;
  /** Segments that another build outlined, or none: they are outlined in idle time, for the next opening. */
  private unoutlined: readonly number[] = [];
  private newLogFile: Promise<void> | null = null;
  private reading: Promise<void> | null = null;
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
    await db.ballast.put({ id: 'ballast', bytes: new Uint8Array(BALLAST_BYTES) });
    const store = new CastingStore(db, tabletKey, changed);
    store.whole = true;
    return store;
  }

  /** Takes away what is left of a casting that was never opened here: a joining that was broken off. */
  static forget(casting: string): Promise<void> {
    return CastingDatabase.delete(`lehrbook-${casting}`);
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
      store.chain = { ...store.chain, head, seen: {}, clock: last.clock };
      await store.db.chain.put(store.chain);
    }
    return store;
  }

  /**
   * Opens a casting for saving. Its log is empty until `read` has ended.
   * @throws {Error} when this tablet holds no key for the casting.
   */
  static async openUnread(db: CastingDatabase, changed: () => void): Promise<CastingStore> {
    const [tabletKey, chain] = await Promise.all([db.keys.get('tablet'), db.chain.get('own')]);
    if (!tabletKey) throw new Error('This tablet holds no key for the casting');
    const store = new CastingStore(db, tabletKey, changed);
    if (chain) store.chain = chain;
    return store;
  }

  /**
   * Opens a casting and reads its log, segment by segment; the screens stay free in between.
   * @throws {Error} when this tablet holds no key for the casting.
   */
  static async open(casting: string, changed: () => void, onProgress?: Progress): Promise<CastingStore> {
    const store = await CastingStore.openUnread(new CastingDatabase(casting), changed);
    await store.read(onProgress);
    return store;
  }

  /** What the stored log is told by: it only grows, so that its size and own head name its state. */
  get stamp(): LogStamp {
    return { entries: this.chain.entries, head: this.chain.head?.[1] ?? null };
  }

  /** Up to which place the own chain is known to lie elsewhere too. */
  get carried(): number {
    return this.chain.carried;
  }

  /** How many own entries lie only here, and when the oldest of them was written. */
  get waiting(): { count: number; since: string | null } {
    const count = (this.chain.head?.[0] ?? 0) - this.chain.carried;
    return { count, since: count > 0 ? this.log.recordedAt(this.device, this.chain.carried + 1) : null };
  }

  close(): void {
    this.db.close();
  }

  /**
   * Writes acts of this tablet, in order, all or none.
   * @returns what was kept, after the transaction completed.
   */
  save(acts: readonly SignedAct[]): Promise<Kept[]> {
    return this.inTurn(() => this.write(acts));
  }

  /**
   * Takes entries of other tablets, as canonical lines.
   * @returns how many were new, and which lines were refused.
   */
  async receive(lines: readonly string[]): Promise<{ added: number; refused: EnvelopeFault[] }> {
    const refused: EnvelopeFault[] = [];
    const proven: ProvenLine[] = [];
    for (const text of lines) {
      const read = readEntry(text, this.db.casting);
      if ('fault' in read) refused.push(read.fault);
      else if (!this.log.get(read.hash))
        proven.push({ ...read, text, signature: await checkSignature(read.entry, webVerifier) });
    }
    return { added: await this.takeIn(proven), refused };
  }

  /**
   * Takes entries of other tablets that were read and checked, all or none.
   * @param cursor where they come from the server: how far its arrivals were looked at with them
   * @returns how many were new.
   */
  async takeIn(lines: readonly ProvenLine[], cursor?: number): Promise<number> {
    // What is here already is known only once the whole log was read; saving goes on meanwhile.
    await this.reading;
    return this.inTurn(() => this.merge(lines, cursor));
  }

  /**
   * Takes entries of other tablets that came in one run from the server, as a segment of their own.
   * @returns false, and takes none, when some of them are here already
   */
  async takeRun(run: ReceivedRun, cursor: number): Promise<boolean> {
    await this.reading;
    return this.inTurn(() => this.mergeRun(run, cursor));
  }

  /** Keeps how far the own chain is known to lie elsewhere too. */
  noteCarried(carried: number): Promise<void> {
    return this.inTurn(async () => {
      await this.db.chain.update('own', { carried });
      this.chain = { ...this.chain, carried };
    });
  }

  /** Takes over what another window of this tablet has stored meanwhile. */
  catchUp(): Promise<void> {
    return this.inTurn(async () => {
      if (!this.isWhereStored(await this.db.chain.get('own'))) await this.readAnew();
    });
  }

  /** One writing at a time, in the order in which they were asked for. */
  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const working = this.queue.then(work);
    this.queue = working.catch(() => undefined);
    return working;
  }

  /** Reads what is stored and not yet in the log; saving goes on meanwhile. */
  read(onProgress?: Progress): Promise<void> {
    this.reading = this.readOn(onProgress);
    return this.reading;
  }

  private async readOn(onProgress?: Progress): Promise<void> {
    // Reading does not wait for it; saving does.
    void this.hasNewLogFile();
    const found = await readLog(this.db, this.log, this.lastSegment, onProgress);
    this.lastSegment = Math.max(this.lastSegment, found.lastSegment);
    this.damaged.push(...found.damaged);
    this.unoutlined = found.unoutlined;
    this.whole = true;
    this.changed();
    this.sealInIdleTime();
  }

  /** Once, before anything is read or saved: what is saved before it may stand behind a torn place. */
  private hasNewLogFile(): Promise<void> {
    this.newLogFile ??= beginNewLogFile().catch((error: unknown) => console.warn('The log file stays', error));
    return this.newLogFile;
  }

  /** Another window of this tablet wrote in between: what it wrote is read, and built on. */
  private async readAnew(): Promise<void> {
    this.chain = (await this.db.chain.get('own')) ?? emptyChain;
    if (this.whole) await this.read();
  }

  private isWhereStored(stored: ChainRow = emptyChain): boolean {
    return sameHead(stored.head, this.chain.head) && stored.entries === this.chain.entries;
  }

  /** Seals the oldest entries of a long tail when the tablet has nothing else to do; never in a save. */
  private sealInIdleTime(): void {
    if (this.sealing || !this.whole) return;
    this.sealing = true;
    inIdleTime(() => {
      const sealed = this.db.isOpen() ? this.seal().then(() => this.outlineSegments()) : Promise.resolve();
      sealed
        .catch((error: unknown) => console.error('Sealing waits for the next time', error))
        .finally(() => {
          this.sealing = false;
        });
    });
  }

  /** Moves the oldest entries of a long tail into segments; each move is one transaction, so that nothing is ever in neither. */
  seal(): Promise<void> {
    this.sealed = this.sealed.catch(() => undefined).then(() => this.sealOn());
    return this.sealed;
  }

  private async sealOn(): Promise<void> {
    while ((await this.db.tail.count()) >= SEAL_AT) {
      const rows = await this.db.tail.orderBy('n').limit(SEGMENT_SIZE).toArray();
      const outlines = rows.flatMap(({ hash }) => this.log.outline(hash) ?? []);
      const known = outlines.length === rows.length ? outlines : undefined;
      const segment = await packSegment(rows, (hash) => this.log.outline(hash)?.signature ?? 'none', known);
      const sealed = await this.moveToSegment(rows, segment);
      if (sealed !== null) this.lastSegment = Math.max(this.lastSegment, sealed);
    }
  }

  private async outlineSegments(): Promise<void> {
    const { db, log } = this;
    const waiting = this.unoutlined;
    this.unoutlined = [];
    for (const n of waiting) {
      const row = await db.segments.get(n);
      const outlines = row && segmentHashes(row).flatMap((hash) => log.outline(hash) ?? []);
      if (row && outlines?.length === row.count) await db.segments.update(n, await outlined(row.gz, outlines));
    }
  }

  private moveToSegment(rows: readonly EntryRow[], segment: SegmentRow): Promise<number | null> {
    const { db } = this;
    const range = () => db.tail.where('n').between(rows[0]!.n!, rows.at(-1)!.n!, true, true);
    return db.transaction('rw', db.tail, db.segments, async () => {
      // Another window may have sealed them in between.
      if ((await range().count()) !== rows.length) return null;
      const n = await db.segments.add(segment);
      await range().delete();
      return n;
    });
  }

  private async write(acts: readonly SignedAct[]): Promise<Kept[]> {
    await this.hasNewLogFile();
    for (let attempt = 0; attempt < 5; attempt++) {
      const made = await this.make(acts);
      if (await this.withRoom(() => this.commit(made))) {
        for (const { entry, hash, signature } of made) this.log.add(entry, hash, signature);
        this.changed();
        this.sealInIdleTime();
        return made.map(({ hash }) => this.log.get(hash)!);
      }
      await this.readAnew();
    }
    throw new Error(OTHER_WINDOW);
  }

  /** When the storage is full the ballast is given up, once, and the work is tried again. */
  private async withRoom<T>(work: () => Promise<T>): Promise<T> {
    try {
      return await work();
    } catch (error) {
      if (!isQuotaError(error) || (await this.db.ballast.count()) === 0) throw error;
      await this.db.ballast.clear();
      return work();
    }
  }

  private async make(acts: readonly SignedAct[]): Promise<Made[]> {
    const made: Made[] = [];
    let state: ChainState = { ...this.chain, casting: this.db.casting, device: this.device };
    for (const { signer, ...act } of acts) {
      const unsigned = nextEntry(state, act);
      const entry: Entry = signer ? await signEntry(unsigned, signer) : unsigned;
      const text = canonicalJson(entry);
      const hash = sha256Hex(text);
      const row = { hash, device: entry.device, seq: entry.seq, text };
      made.push({ entry, hash, signature: signer ? 'good' : 'none', row });
      state = { ...state, head: [entry.seq, hash], seen: {}, clock: entry.clock };
    }
    return made;
  }

  /** False when the chain has moved on since the entries were made. */
  private async commit(made: readonly Made[]): Promise<boolean> {
    const last = made.at(-1)!;
    const next: ChainRow = {
      ...this.chain,
      head: [last.entry.seq, last.hash],
      seen: {},
      clock: last.entry.clock,
      entries: this.chain.entries + made.length,
    };
    const { db } = this;
    const fits = await db.transaction('rw', db.tail, db.chain, async () => {
      if (!this.isWhereStored(await db.chain.get('own'))) return false;
      await db.tail.bulkAdd(made.map((m) => m.row));
      await db.chain.put(next);
      return true;
    });
    if (fits) this.chain = next;
    return fits;
  }

  private async merge(lines: readonly ProvenLine[], cursor?: number): Promise<number> {
    for (let attempt = 0; attempt < 5; attempt++) {
      const unknown = lines.filter((line) => !this.log.outline(line.hash));
      const fresh = [...new Map(unknown.map((line) => [line.hash, line])).values()];
      if (fresh.length === 0 && cursor === undefined) return 0;
      if (await this.keepReceived(await this.arrivedLines(fresh), cursor)) return fresh.length;
      await this.readAnew();
    }
    throw new Error(OTHER_WINDOW);
  }

  private async mergeRun({ row, lines, clock }: ReceivedRun, cursor: number): Promise<boolean> {
    for (let attempt = 0; attempt < 5; attempt++) {
      if (lines.some(({ outline }) => this.log.outline(outline.hash))) return false;
      const addTo = (log: Log) => addOutlined(log, lines);
      const ties = lines.map((line) => line.outline);
      if (await this.keepReceived({ ties, clock, segments: [row], rest: [], addTo }, cursor)) return true;
      await this.readAnew();
    }
    throw new Error(OTHER_WINDOW);
  }

  private async arrivedLines(fresh: readonly ProvenLine[]): Promise<Arrived> {
    return {
      ties: fresh.map(({ hash, entry: { device, seq, prev } }) => ({ hash, device, seq, prev })),
      clock: fresh.reduce<Clock>((c, { entry }) => adopt(c, entry.clock, Date.now()), this.chain.clock),
      ...(await this.packed(fresh)),
      addTo: (log) => {
        for (const { entry, hash, signature } of fresh) log.add(entry, hash, signature);
      },
    };
  }

  /**
   * The log takes them only after they are stored: what could not be stored can be taken in again.
   * @returns false when another window has written since.
   */
  private async keepReceived({ ties, clock, segments, rest, addTo }: Arrived, cursor?: number): Promise<boolean> {
    const next: ChainRow = {
      ...this.chain,
      clock: adopt(this.chain.clock, clock, Date.now()),
      seen: { ...this.chain.seen, ...this.newlySeen(ties) },
      entries: this.chain.entries + ties.length,
    };
    const { db } = this;
    const fits = await db.transaction('rw', db.tail, db.segments, db.chain, db.server, async () => {
      if (!this.isWhereStored(await db.chain.get('own'))) return false;
      const keys = (await db.segments.bulkAdd([...segments], { allKeys: true })) as number[];
      this.lastSegment = Math.max(this.lastSegment, ...keys);
      await db.tail.bulkAdd([...rest]);
      await db.chain.put(next);
      if (cursor !== undefined) await db.server.update('server', { cursor });
      return true;
    });
    if (!fits) return false;
    this.chain = next;
    addTo(this.log);
    if (ties.length > 0) this.changed();
    this.sealInIdleTime();
    return true;
  }

  /** Many entries at once go straight into segments: a row an entry would cost the tablet far more. */
  private async packed(fresh: readonly ProvenLine[]): Promise<{ segments: SegmentRow[]; rest: readonly EntryRow[] }> {
    const rows = fresh.map(({ hash, text, entry: { device, seq } }): EntryRow => ({ hash, device, seq, text }));
    const checks = new Map(fresh.map((f) => [f.hash, f.signature]));
    const segments: SegmentRow[] = [];
    let from = 0;
    for (; rows.length - from >= SEAL_AT; from += SEGMENT_SIZE) {
      segments.push(await packSegment(rows.slice(from, from + SEGMENT_SIZE), (hash) => checks.get(hash) ?? 'none'));
    }
    return { segments, rest: rows.slice(from) };
  }

  /** The heads of other chains that move with fresh entries: what the next own entry says that it has seen. */
  private newlySeen(fresh: Arrived['ties']): Record<string, Head> {
    const chains = new Map<string, Arrived['ties'][number][]>();
    for (const tie of fresh) {
      const chain = chains.get(tie.device);
      if (chain) chain.push(tie);
      else chains.set(tie.device, [tie]);
    }
    chains.delete(this.device);
    return Object.fromEntries(
      [...chains].flatMap(([device, ties]) => {
        const head = this.log.headWith(device, ties);
        return head ? [[device, head]] : [];
      }),
    );
  }
}

/** Entries of other tablets on their way into the store and, once they are there, into the log. */
interface Arrived {
  readonly ties: readonly Pick<Outline, 'hash' | 'device' | 'seq' | 'prev'>[];
  /** The latest of their clocks. */
  readonly clock: Clock;
  readonly segments: readonly SegmentRow[];
  readonly rest: readonly EntryRow[];
  readonly addTo: (log: Log) => void;
}

const OTHER_WINDOW = 'Another window of this tablet keeps writing; nothing was saved';

const sameHead = (a: Head | null, b: Head | null): boolean => a?.[0] === b?.[0] && a?.[1] === b?.[1];

export const isQuotaError = (error: unknown): boolean =>
  error instanceof Error &&
  (error.name === 'QuotaExceededError' || (error as { inner?: Error }).inner?.name === 'QuotaExceededError');
