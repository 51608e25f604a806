import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { CastingStore } from '../../src/tablet/storage/casting-store.ts';
import { TabletDatabase } from '../../src/tablet/storage/database.ts';
import { makeTabletKey, tabletSigner } from '../../src/tablet/storage/keys.ts';
import { makePersonKey, openPersonKey } from '../../src/tablet/storage/person-keys.ts';
import { type CoresLogPerson, coresLog } from '../practice/cores-log.ts';

const PIN = '1234';
const crew = [
  { name: 'Lena Lead', roles: ['crew-lead', 'keeper'] },
  { name: 'Quentin Quality', roles: ['quality'] },
  { name: 'Tess Technician', roles: ['technician'] },
] as const;

interface Wanted {
  readonly blank_diameter_mm: number;
  readonly measured: readonly { operation: string; characteristic: string; except?: string; first?: number }[];
  readonly finished: readonly string[];
  readonly stated: readonly { hold: string; requirement: string }[];
}

/** Makes a casting at the stage of its cores in this browser's storage, for the built app to open. */
async function importCores(wanted: Wanted): Promise<{ casting: string; entries: number; cores: number }> {
  const tabletKey = await makeTabletKey();
  const people = await Promise.all(
    crew.map(async ({ name, roles }, i) => {
      const id = String(i + 1).repeat(32);
      const row = await makePersonKey(id, PIN, tabletKey);
      const person: CoresLogPerson = { id, name, roles, signer: (await openPersonKey(row, PIN, tabletKey))! };
      return { person, row };
    }),
  );
  const plan = buildPlan({ ...practiceDesign, blank_diameter_mm: wanted.blank_diameter_mm });
  const { casting, lines } = await coresLog({
    seed: 'cores',
    plan,
    endsAt: Date.now() - 60_000,
    tablet: tabletSigner(tabletKey).publicKey,
    people: people.map((p) => p.person),
    measured: wanted.measured.map(({ operation, characteristic, except, first = Number.POSITIVE_INFINITY }) => {
      const left = except === undefined ? null : new RegExp(except);
      let count = 0;
      return { operation, characteristic, stations: (id) => !left?.test(id) && count++ < first };
    }),
    finished: wanted.finished,
    stated: wanted.stated,
  });
  const store = await CastingStore.createFrom(casting, tabletKey, lines, () => undefined);
  await store.db.personKeys.bulkAdd(people.map((p) => p.row));
  store.close();
  const tablet = new TabletDatabase();
  await tablet.castings.put({
    id: casting,
    name: 'Casting with its cores set',
    practice: true,
    openedAt: new Date().toISOString(),
  });
  await tablet.settings.put({ key: `person/${casting}`, value: people.at(-1)!.person.id });
  tablet.close();
  return { casting, entries: lines.length, cores: plan.stationSets.C!.length };
}

Object.assign(globalThis, { importCores });
