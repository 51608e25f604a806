import type { EntityTable } from 'dexie';

/** Where drafts are kept: a casting's own table, or the tablet's settings while no casting is open. */
export type DraftTable = EntityTable<{ key: string; value: unknown }, 'key'>;

/** A value on its way into the table; undefined takes the row away. */
interface Waiting {
  value: unknown;
  done: Promise<void>;
}

const onTheWay = new WeakMap<DraftTable, Map<string, Waiting>>();

/** One draft in the store. A draft that cannot be kept costs retyping, never an entry: nothing here throws. */
export class DraftRow {
  private readonly waiting: Map<string, Waiting>;

  constructor(
    private readonly table: DraftTable,
    private readonly key: string,
  ) {
    this.waiting = onTheWay.get(table) ?? new Map();
    onTheWay.set(table, this.waiting);
  }

  /** What was kept last, or undefined. */
  async read(): Promise<unknown> {
    const waiting = this.waiting.get(this.key);
    return waiting ? waiting.value : (await quietly(this.table.get(this.key)))?.value;
  }

  /** Writes the newest value; while one is being written only the last of the next is kept. Resolves when it is. */
  keep(value: object): Promise<void> {
    return this.write(value);
  }

  forget(): Promise<void> {
    return this.write(undefined);
  }

  private write(value: unknown): Promise<void> {
    const before = this.waiting.get(this.key);
    if (before) {
      before.value = value;
      return before.done;
    }
    const row: Waiting = { value, done: Promise.resolve() };
    this.waiting.set(this.key, row);
    row.done = this.drain(row);
    return row.done;
  }

  private async drain(row: Waiting): Promise<void> {
    const { table, key } = this;
    for (let written: unknown = row; written !== row.value; ) {
      const { value } = row;
      await quietly<unknown>(value === undefined ? table.delete(key) : table.put({ key, value }));
      written = value;
    }
    this.waiting.delete(key);
  }
}

const quietly = <R>(work: PromiseLike<R>): Promise<R | undefined> => Promise.resolve(work).catch(() => undefined);
