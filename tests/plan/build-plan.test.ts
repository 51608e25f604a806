import { describe, expect, test } from 'vitest';
import { calculationNamed } from '../../shared/calculations/registry.ts';
import { canonicalJson } from '../../shared/logbook/canonical.ts';
import { roles as rosterRoles } from '../../shared/logbook/kinds.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { limitsFor, stationSet, stationsOf } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { type Plan, planSchema, type Requirement } from '../../shared/plan/schema.ts';
import { designs } from './designs.ts';

const idsOf = (list: readonly { id: string }[]): string[] => list.map((item) => item.id);
const repeated = (list: readonly string[]): string[] => list.filter((id, i) => list.indexOf(id) !== i);

describe.each(designs)('the built-in plan of the $name', ({ design }) => {
  const plan = buildPlan(design);
  const operations = new Set(idsOf(plan.operations));
  const characteristics = new Map(plan.characteristics.map((c) => [c.id, c]));

  test('fits the schema and loses nothing in it', () => {
    expect(planSchema.parse(plan)).toEqual(plan);
  });

  test('holds no number that is not finite and no undefined', () => {
    const walk = (value: unknown, path: string): string[] => {
      if (value === undefined || (typeof value === 'number' && !Number.isFinite(value))) return [path];
      if (value === null || typeof value !== 'object') return [];
      return Object.entries(value).flatMap(([key, inner]) => walk(inner, `${path}.${key}`));
    };
    expect(walk(plan, 'plan')).toEqual([]);
  });

  test('has 40 operations, 12 hold points, 8 witness points, 14 stages, 54 channels with 12 in a key round', () => {
    expect(plan.operations).toHaveLength(40);
    expect(plan.holds).toHaveLength(12);
    expect(plan.witnesses).toHaveLength(8);
    expect(plan.stages).toHaveLength(14);
    expect(plan.channels).toHaveLength(54);
    expect(plan.channels.filter((c) => c.key)).toHaveLength(12);
    expect(plan.cautions).toHaveLength(14);
    expect(plan.reminders).toHaveLength(40);
    expect(plan.findingKinds).toHaveLength(33);
    expect(plan.heatPlans).toHaveLength(5);
  });

  test('names nothing twice', () => {
    const lists = [
      plan.operations,
      plan.characteristics,
      plan.holds,
      plan.witnesses,
      plan.channels,
      plan.instrumentClasses,
      plan.cautions,
      plan.derived,
      plan.stages,
      plan.heatPlans,
      plan.roles,
      plan.alarms,
    ];
    for (const list of lists) expect(repeated(idsOf(list))).toEqual([]);
    for (const set of Object.keys(plan.stationSets)) {
      expect(repeated(idsOf(stationSet(plan, set))), set).toEqual([]);
    }
    for (const operation of plan.operations) {
      expect(repeated(operation.measures)).toEqual([]);
      expect(repeated(idsOf(operation.checks))).toEqual([]);
    }
    for (const hold of plan.holds) {
      const words = hold.requirements.map((r) => JSON.stringify(r));
      expect(repeated(words)).toEqual([]);
    }
  });

  test('every operation resolves: predecessors, stage, cautions, measures, heat plan', () => {
    for (const o of plan.operations) {
      for (const { id } of o.after) expect(operations, `${o.id} after ${id}`).toContain(id);
      expect(idsOf(plan.stages)).toContain(o.stage);
      for (const caution of o.cautions) expect(idsOf(plan.cautions)).toContain(caution);
      for (const id of o.measures) {
        expect(characteristics.has(id), `${o.id} measures ${id}`).toBe(true);
        expect(characteristics.get(id)!.operations, `${id} knows ${o.id}`).toContain(o.id);
      }
      if (o.heatPlan !== null) {
        expect(plan.heatPlans.find((p) => p.id === o.heatPlan)!.operations).toContain(o.id);
      }
    }
  });

  test('every characteristic resolves: operations that measure it, stations, instruments, derivation', () => {
    for (const c of plan.characteristics) {
      for (const id of c.operations) {
        const measures = plan.operations.find((o) => o.id === id)?.measures;
        expect(measures, `${id} measures ${c.id}`).toContain(c.id);
      }
      for (const id of c.instruments) expect(idsOf(plan.instrumentClasses), c.id).toContain(id);
      if (c.each === undefined) expect(stationsOf(plan, c).length, c.id).toBeGreaterThan(0);
      else expect(c.stations, c.id).toBeNull();
      for (const id of c.derivedFrom?.characteristics ?? []) expect(characteristics.has(id), id).toBe(true);
      const calculation = c.derivedFrom?.calculation;
      if (calculation) expect(calculationNamed(calculation), `${c.id} by ${calculation}`).toBeDefined();
    }
  });

  test('every characteristic is judged as its kind says', () => {
    for (const c of plan.characteristics) {
      const numbers = c.limits.flatMap((l) => [l.lower, l.upper]).filter((n) => n !== null);
      if (c.kind === 'recorded') expect(numbers, c.id).toEqual([]);
      if (c.kind === 'count' || c.kind === 'grade') expect(c.uncertainty, c.id).toBeNull();
      if (c.kind === 'derived') expect(c.derivedFrom, c.id).toBeDefined();
      for (const { lower, upper } of c.limits) if (lower !== null && upper !== null) expect(lower).toBeLessThan(upper);
      // Limits in parts cover all operations.
      if (c.limits.length > 1) for (const id of c.operations) expect(limitsFor(c, id), `${c.id} ${id}`).toBeDefined();
    }
  });

  test('offsets name stations of the set', () => {
    for (const c of plan.characteristics) {
      const known = new Set(stationsOf(plan, c).map((s) => s.id.split('@')[0]));
      for (const station of c.limits.flatMap((l) => Object.keys(l.offsetByStation ?? {}))) {
        expect(known, `${c.id} ${station}`).toContain(station);
      }
    }
  });

  test('every hold point resolves', () => {
    for (const hold of plan.holds) {
      for (const id of [hold.after, ...hold.before, ...hold.operations]) expect(operations).toContain(id);
      for (const role of hold.roles) expect(rosterRoles).toContain(role);
      for (const requirement of hold.requirements) expectResolved(plan, hold.id, requirement);
    }
  });

  test('hold points ask for no characteristic whose stations are only named as they come', () => {
    // Such a requirement could never be counted as complete.
    const asked = plan.holds.flatMap((h) => h.requirements).filter((r) => r.kind === 'characteristic');
    for (const { characteristic } of asked)
      expect(characteristics.get(characteristic)!.each, characteristic).toBeUndefined();
  });

  test('hold points ask for photos of lines that their operations list, and H05 for the mosaic of the mould', () => {
    const asked = plan.holds.flatMap((h) => h.requirements.flatMap((r) => (r.kind === 'photos' ? [{ ...r, h }] : [])));
    for (const { operation, photo, least } of asked) {
      expect(plan.operations.find((o) => o.id === operation)?.photos).toContain(photo);
      expect(least).toBeGreaterThan(0);
    }
    expect(asked.map(({ h, operation }) => [h.id, operation])).toEqual([['H05', '7.3']]);
  });

  test('witness points, roles, heat plans and channels resolve', () => {
    for (const w of plan.witnesses) for (const id of w.operations) expect(operations).toContain(id);
    for (const role of plan.roles) expect(rosterRoles).toContain(role.id);
    const channels = new Set(idsOf(plan.channels));
    const groups = new Set(plan.channels.map((c) => c.group));
    for (const heat of plan.heatPlans) {
      for (const id of heat.operations) expect(operations).toContain(id);
      for (const group of heat.control) expect(groups).toContain(group);
    }
    for (const c of plan.channels) {
      for (const other of [...(c.pair ? [c.pair] : []), ...(c.across ?? [])]) expect(channels, c.id).toContain(other);
      if (c.pair) expect(plan.channels.find((o) => o.id === c.pair)!.pair, `${c.id} and back`).toBe(c.id);
    }
  });

  test('findings block hold points that exist', () => {
    for (const kind of plan.findingKinds) {
      if (kind.blocks !== null && kind.blocks !== 'its hold') expect(idsOf(plan.holds)).toContain(kind.blocks);
      if (kind.stage !== 'any') expect(idsOf(plan.stages)).toContain(kind.stage);
    }
  });

  test('check sheets begin with the three common items and number through', () => {
    const [first] = plan.operations;
    for (const { checks } of plan.operations) {
      expect(checks.slice(0, 3)).toEqual(first!.checks.slice(0, 3));
      expect(checks.length).toBeGreaterThan(3);
      expect(idsOf(checks)).toEqual(checks.map((_, i) => `c${i + 1}`));
    }
  });

  test('a derived figure has a derivation or says its rule', () => {
    for (const figure of plan.derived) expect(figure.derivation ?? figure.words, figure.id).toBeDefined();
  });
});

function expectResolved(plan: Plan, hold: string, r: Requirement): void {
  const characteristic = r.kind === 'characteristic' && plan.characteristics.find((c) => c.id === r.characteristic);
  if (r.kind === 'sheet' || r.kind === 'characteristic' || r.kind === 'rounds') {
    expect(idsOf(plan.operations), hold).toContain(r.operation);
  }
  if (r.kind === 'characteristic') {
    expect(characteristic, `${hold} ${r.characteristic}`).toBeTruthy();
    expect(characteristic ? characteristic.operations : [], `${hold} ${r.characteristic}`).toContain(r.operation);
  }
  if (r.kind === 'rounds') {
    const heat = plan.heatPlans.find((p) => p.id === r.heatPlan)!;
    expect(heat.operations).toContain(r.operation);
    // A soak is meant wherever no round may be missed.
    for (const n of r.noneMissedIn) expect(heat.segments[n - 1]!.soak_h, `${hold} segment ${n}`).toBeDefined();
  }
  if (r.kind === 'witness') expect(idsOf(plan.witnesses)).toContain(r.witness);
  if (r.kind === 'holds') for (const id of r.holds) expect(idsOf(plan.holds)).toContain(id);
}

describe('the plan of the practice blank', () => {
  const plan = buildPlan(practiceDesign);

  test('is small enough to stand whole in the log', () => {
    expect(canonicalJson(plan).length).toBeLessThan(246_000);
  });

  test('is the same bytes each time it is built', () => {
    expect(canonicalJson(buildPlan({ ...practiceDesign }))).toBe(canonicalJson(plan));
  });

  test('has the stations that the table names', () => {
    const count = (set: string) => stationSet(plan, set).length;
    expect(count('T24x3')).toBe(72);
    expect(count('D12x3')).toBe(36);
    expect(count('F43')).toBe(43);
    expect(count('C')).toBe(253);
    expect(count('edge-cores')).toBe(60);
    expect(count('band-rods')).toBe(16);
    expect(plan.stationSets.T24x3![0]).toMatchObject({ id: '7.5@40', angle_deg: 7.5, height_mm: 40 });
    expect(plan.stationSets.heights!.map((s) => s.id)).toEqual(['h40', 'h200', 'h380']);
  });

  test('pairs of cores: six neighbours each inside, fewer at the edge', () => {
    const pairs = stationSet(plan, 'CP');
    const ofCentre = pairs.filter((p) => p.id.split('-').includes('0.1'));
    expect(ofCentre.map((p) => p.id)).toEqual(['0.1-1.1', '0.1-1.2', '0.1-1.3', '0.1-1.4', '0.1-1.5', '0.1-1.6']);
    // Euler for a patch of the triangular lattice without holes: pairs = cores + triangles − 1.
    const near = new Set(pairs.map((p) => p.id));
    const has = (a: string, b: string) => near.has(`${a}-${b}`) || near.has(`${b}-${a}`);
    const cores = stationSet(plan, 'C').map((s) => s.id);
    const triangles = pairs.reduce((sum, pair) => {
      const [a, b] = pair.id.split('-') as [string, string];
      return sum + cores.filter((c) => has(a, c) && has(b, c)).length;
    }, 0);
    expect(pairs.length).toBe(cores.length + triangles / 3 - 1);
  });

  test('bond pads lie about the axis: their centre is the axis', () => {
    const pads = stationSet(plan, 'pads');
    expect(pads).toHaveLength(24);
    expect(pads.reduce((sum, p) => sum + p.x_mm!, 0)).toBeCloseTo(0, 1);
    expect(pads.reduce((sum, p) => sum + p.y_mm!, 0)).toBeCloseTo(0, 1);
  });

  test('offers mistyped as the first reason for a strike', () => {
    expect(plan.strikeReasons[0]).toBe('mistyped');
    expect(plan.strikeReasons).toHaveLength(13);
  });

  test('walks the channels from the reference junctions to the table', () => {
    expect(plan.channels[0]!.id).toBe('RJ-1');
    expect(plan.channels.at(-1)!.id).toBe('SR-1');
    const key = plan.channels.filter((c) => c.key).map((c) => c.id);
    expect(new Set(key)).toEqual(
      new Set(['RJ-2', 'CR-1', 'WU-1', 'WL-1', 'BP-0', 'BP-3', 'MC-0', 'MC-2', 'FC-0', 'FC-3', 'SR-1', 'HZ-sum']),
    );
  });

  test('every sheet of operations 1.1 to 2.4 stands behind H01', () => {
    const sheets = plan.holds[0]!.requirements.flatMap((r) => (r.kind === 'sheet' ? [r.operation] : []));
    expect(sheets).toEqual(['1.1', '1.2', '1.3', '2.1', '2.2', '2.3', '2.4']);
  });
});
