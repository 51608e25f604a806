import { canonicalJson, sha256Hex } from '../../shared/logbook/canonical.ts';
import { nowFromStored } from '../../src/tablet/screens/now/now-from-stored.ts';
import { CastingStore } from '../../src/tablet/storage/casting-store.ts';
import { proveChains } from '../../src/tablet/storage/prove.ts';

const PERSON = 'c'.repeat(32);
const quiet = (): void => undefined;

/** What a casting's storage holds, as far as two tablets can be compared. */
export interface Stored {
  /** Rows of entries, and different entries among them. */
  readonly rows: number;
  readonly entries: number;
  readonly heads: Readonly<Record<string, unknown>>;
  /** SHA-256 over all hashes, sorted. */
  readonly digest: string;
  /** SHA-256 of the state that the first screen shows, as at one moment. */
  readonly state: string;
  readonly faults: readonly string[];
}

/** Writes so many notes as a second window of this tablet would, some in each save. */
async function write(casting: string, count: number): Promise<void> {
  const store = await CastingStore.open(casting, quiet);
  for (let n = 0; n < count; ) {
    const some = Math.min(1 + (n % 40), count - n);
    const at = new Date().toISOString();
    const act = (i: number) =>
      ({ kind: 'note', body: { text: `note ${n + i}` }, by: PERSON, observedAt: at, recordedAt: at }) as const;
    await store.save(Array.from({ length: some }, (_, i) => act(i)));
    n += some;
  }
  store.close();
}

async function stored(casting: string, at_ms: number): Promise<Stored> {
  const store = await CastingStore.open(casting, quiet);
  const { db, log } = store;
  const segments = await db.segments.toArray();
  const rows = segments.reduce((sum, s) => sum + s.count, 0) + (await db.tail.count());
  const { faults } = await proveChains(db, quiet);
  const hashes = [...log.all()].map((k) => k.hash).sort();
  const { shard } = await nowFromStored(db, at_ms);
  const found: Stored = {
    rows,
    entries: log.size,
    heads: log.heads(),
    digest: sha256Hex(hashes.join()),
    state: sha256Hex(canonicalJson(JSON.parse(JSON.stringify(shard)))),
    faults: [...faults, ...store.damaged.map((d) => `${d.place}: ${d.fault}`)],
  };
  store.close();
  return found;
}

Object.assign(globalThis, { beside: { write, stored } });
