import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Plan, Station } from '../../shared/plan/schema.ts';
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
  /** The wall of the tub as the log has it; left out: as the plan has it. */
  readonly wall?: { readonly angles: number; readonly heights: number };
  readonly measured: readonly { operation: string; characteristic: string; except?: string; first?: number }[];
  readonly finished: readonly string[];
  readonly stated: readonly { hold: string; requirement: string }[];
}

/** The plan with so many angles and heights of its tub's wall: a diameter lies across two angles. */
function withWall(plan: Plan, { angles, heights }: { angles: number; heights: number }): Plan {
  const least = Math.min(...plan.stationSets.T24x3!.map((s) => s.height_mm!));
  const most = Math.max(...plan.stationSets.T24x3!.map((s) => s.height_mm!));
  const levels = Array.from({ length: heights }, (_, i) =>
    Math.round(least + ((most - least) * i) / Math.max(1, heights - 1)),
  );
  const at = (count: number): Station[] =>
    levels.flatMap((height_mm) =>
      Array.from({ length: count }, (_, i) => {
        const angle_deg = (360 / angles) * (i + 0.5);
        return { id: `${angle_deg}@${height_mm}`, label: `${angle_deg}° at ${height_mm} mm`, angle_deg, height_mm };
      }),
    );
  const rings = levels.map((height_mm) => ({ id: `h${height_mm}`, label: `${height_mm} mm`, height_mm }));
  return {
    ...plan,
    stationSets: { ...plan.stationSets, T24x3: at(angles), D12x3: at(angles / 2), heights: rings },
  };
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
  const own = buildPlan({ ...practiceDesign, blank_diameter_mm: wanted.blank_diameter_mm });
  const plan = wanted.wall ? withWall(own, wanted.wall) : own;
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
