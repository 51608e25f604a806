import { castingId } from '../../shared/logbook/entry.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { longLog } from '../../shared/practice/long-log.ts';
import { CastingStore } from '../../src/tablet/storage/casting-store.ts';
import { TabletDatabase } from '../../src/tablet/storage/database.ts';
import { makeTabletKey, tabletSigner } from '../../src/tablet/storage/keys.ts';
import { makePersonKey, openPersonKey } from '../../src/tablet/storage/person-keys.ts';

const PERSON = 'a'.repeat(32);
const PIN = '1234';

/** Makes a long log in this browser's storage, through the store's own import, for the built app to open. */
async function importLong(entries: number, tablets: number): Promise<{ casting: string; entries: number }> {
  const keys = await Promise.all(Array.from({ length: tablets }, makeTabletKey));
  const personKeys = await Promise.all(keys.map((key) => makePersonKey(PERSON, PIN, key)));
  const signers = await Promise.all(personKeys.map(async (row, i) => (await openPersonKey(row, PIN, keys[i]!))!));
  const lines: string[] = [];
  const wanted = {
    seed: 'bench',
    entries,
    plan: buildPlan(practiceDesign),
    endsAt: Date.now() - 60_000,
    tablets: keys.map((k) => tabletSigner(k).publicKey),
    signers,
    person: PERSON,
  };
  for await (const line of longLog(wanted)) lines.push(line);
  const casting = castingId((JSON.parse(lines[0]!) as { body: object }).body);
  const store = await CastingStore.createFrom(casting, keys[0]!, lines, () => undefined);
  await store.db.personKeys.add(personKeys[0]!);
  store.close();
  const tablet = new TabletDatabase();
  await tablet.castings.put({
    id: casting,
    name: 'Long practice log',
    practice: true,
    openedAt: new Date().toISOString(),
  });
  await tablet.settings.put({ key: `person/${casting}`, value: PERSON });
  tablet.close();
  return { casting, entries: lines.length };
}

Object.assign(globalThis, { importLong });
