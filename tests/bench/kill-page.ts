import { castingId } from '../../shared/logbook/entry.ts';
import type { Body } from '../../shared/logbook/kinds.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { nowBeside } from '../../src/tablet/screens/now/now-beside.ts';
import { CastingStore, type SignedAct } from '../../src/tablet/storage/casting-store.ts';
import { TabletDatabase } from '../../src/tablet/storage/database.ts';
import { makeTabletKey, tabletSigner } from '../../src/tablet/storage/keys.ts';
import { proveChains } from '../../src/tablet/storage/prove.ts';

const PERSON = 'b'.repeat(32);
const quiet = (): void => undefined;
const act = (kind: SignedAct['kind'], body: unknown): SignedAct => {
  const at = new Date().toISOString();
  return { kind, body: body as never, by: PERSON, observedAt: at, recordedAt: at };
};
const note = (text: string): SignedAct => act('note', { text });

/** What is told as saved, as the screens tell it: after the save has resolved. */
const tell = (hashes: readonly string[]): void => console.log(`saved ${hashes.join(' ')}`);

/** A casting of one tablet in this browser's storage, whose saves need no signature. */
async function begin(): Promise<string> {
  const key = await makeTabletKey();
  const plan = JSON.parse(JSON.stringify(buildPlan(practiceDesign)));
  const body: Body<'genesis'> = {
    name: 'Killed again and again',
    design: plan.design,
    planHash: planHashOf(plan),
    nonce: crypto.randomUUID(),
    practice: true,
    timeZone: 'Etc/UTC',
    dayOne: '2026-01-01',
    founder: { person: PERSON, name: 'Practice writer', roles: ['technician'], key: tabletSigner(key).publicKey },
    device: { name: 'T1', key: key.publicKey },
  };
  const casting = castingId(body);
  const store = await CastingStore.create(casting, key, quiet);
  tell((await store.save([act('genesis', body), act('plan', { plan, parents: [] })])).map((k) => k.hash));
  const tablet = new TabletDatabase();
  await tablet.castings.put({ id: casting, name: body.name, practice: true, openedAt: new Date().toISOString() });
  tablet.close();
  store.close();
  return casting;
}

interface Found {
  readonly hashes: string[];
  readonly faults: readonly string[];
  readonly damaged: number;
}

/**
 * Everything that the store gives back, and what the proof finds wrong; null where the browser itself has thrown the
 * database away, as Chromium does when it finds its own files broken.
 */
async function found(casting: string): Promise<Found | null> {
  const names = (await indexedDB.databases()).map((d) => d.name);
  if (!names.includes(`lehrbook-${casting}`)) return null;
  const store = await CastingStore.open(casting, quiet);
  const { faults } = await proveChains(store.db, quiet);
  const hashes = [...store.log.all()].map((k) => k.hash);
  const damaged = store.damaged.length;
  store.close();
  return { hashes, faults, damaged };
}

/** Saves without end, one to three acts at a time. */
async function saving(casting: string): Promise<void> {
  const store = await CastingStore.open(casting, quiet);
  for (let n = 0; ; n++) {
    const acts = Array.from({ length: 1 + (n % 3) }, (_, i) => note(`save ${n}, ${i}`));
    console.log('saving begins');
    tell((await store.save(acts)).map((k) => k.hash));
    console.log('saving ends');
  }
}

/** Lets the tail grow past the point of sealing, and seals, without end. */
async function sealing(casting: string): Promise<void> {
  const store = await CastingStore.open(casting, quiet);
  for (let n = 0; ; n++) {
    tell((await store.save(Array.from({ length: 600 }, (_, i) => note(`seal ${n}, ${i}`)))).map((k) => k.hash));
    console.log('sealing begins');
    await store.seal();
    console.log('sealing ends');
  }
}

/** Has the kept first screen made anew by the app's own worker, with saves meanwhile, without end. */
async function rebuilding(casting: string): Promise<void> {
  const store = await CastingStore.open(casting, quiet);
  for (let n = 0; ; n++) {
    await store.db.shards.clear();
    const made = nowBeside(casting);
    console.log('rebuilding begins');
    tell((await store.save([note(`rebuild ${n}`)])).map((k) => k.hash));
    await made;
    console.log('rebuilding ends');
  }
}

Object.assign(globalThis, { kill: { begin, found, saving, sealing, rebuilding } });
