import { describe, expect, it } from 'vitest';
import { chanceToFind } from '../../shared/calculations/numeric/chance-to-find.ts';
import { type CoreState, coreState } from '../../shared/logbook/state/core-marks.ts';
import { coreSample } from '../../shared/logbook/state/core-sample.ts';
import { measureStates } from '../../shared/logbook/state/measures.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { coreLift } from '../../shared/plan/core-lift.ts';
import { addressWords, coresAt } from '../../shared/plan/core-stations.ts';
import { coreByAddress, coresOf, neighboursOf, readRange, ringOf, stationsByCore } from '../../shared/plan/cores.ts';
import { characteristicById, limitsAt, operationById, stationsOf } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { judgedReading } from '../../shared/practice/judged-reading.ts';
import { sampleSource } from '../../src/tablet/screens/survey/cores/sample-source.ts';
import { type TestTablet, tablets, technician } from './world.ts';

const plan = buildPlan(practiceDesign);
const position = characteristicById(plan, 'core-position')!;
const gap = characteristicById(plan, 'core-gap')!;
const whole = coresOf(plan).filter((c) => c.whole);

const sampleOn = (name: string, operation = '6.3', characteristic = position) =>
  coreSample((tablets([name], plan)[0] as TestTablet).view(), characteristic, operation)!;

describe('the cores of a plan', () => {
  it('are 253 whole ones and 60 cut, as the layout counts them, six around each inside', () => {
    // Counted again by corners in tests/external/core-layout.test.ts.
    expect([whole.length, coresOf(plan).length - whole.length]).toEqual([253, 60]);
    expect(neighboursOf(plan, '0.1').map((n) => [n.address, n.angle_deg])).toEqual([
      ['1.1', 0],
      ['1.2', 60],
      ['1.3', 120],
      ['1.4', 180],
      ['1.5', 240],
      ['1.6', 300],
    ]);
    for (const { address } of whole.filter((c) => c.ring < 8)) expect(neighboursOf(plan, address)).toHaveLength(6);
    for (const { address } of coresOf(plan))
      for (const { address: beside } of neighboursOf(plan, address))
        expect(neighboursOf(plan, beside).map((n) => n.address)).toContain(address);
  });

  it('share each gap between two that lie a pitch apart', () => {
    const stations = stationsOf(plan, gap);
    // Each whole core has its whole neighbours; every pair is met from both sides, and read at two heights.
    const pairs = whole.reduce(
      (sum, c) => sum + neighboursOf(plan, c.address).filter((n) => coreByAddress(plan, n.address)!.whole).length,
      0,
    );
    expect(stations).toHaveLength(pairs);
    for (const { id } of stations) {
      const [a, b] = coresAt(id).map((address) => coreByAddress(plan, address)!);
      expect(Math.hypot(a!.x_mm - b!.x_mm, a!.y_mm - b!.y_mm)).toBeCloseTo(180, 1);
    }
    expect(stationsByCore(plan, gap).get('0.1')).toHaveLength(12);
  });

  it('are lifted by the glass as Archimedes says', () => {
    // (ρ_glass − ρ_core) √3/2 d² h g, by hand: 1780 · 0.866025 · 0.168² · 0.227 · 9.790179 (least), 0.333 (greatest).
    expect(coreLift(plan, '0.1')!.uplift_N).toBeCloseTo(1780 * 0.8660254 * 0.168 ** 2 * 0.227 * 9.790179, 1);
    const greatest = Math.max(...whole.map((c) => coreLift(plan, c.address)!.uplift_N));
    expect(greatest).toBeCloseTo(1780 * 0.8660254 * 0.168 ** 2 * 0.333 * 9.790179, 1);
    expect(coreLift(plan, '99.1')).toBeNull();
  });
});

describe('a range of cores', () => {
  const known = whole.map((c) => c.address);
  it('is read as people write it, in the order of the addresses', () => {
    expect(readRange('3.1 to 3.18', known)).toEqual({ addresses: known.filter((a) => ringOf(a) === 3) });
    expect(readRange('ring 3', known)).toEqual(readRange('3', known));
    expect(readRange('1.6-2.2', known)).toEqual({ addresses: ['1.6', '2.1', '2.2'] });
    expect(readRange('2.1, 0.1; 1.3 – 1.4', known)).toEqual({ addresses: ['0.1', '1.3', '1.4', '2.1'] });
  });
  it('names the part that is no core', () => {
    expect(readRange('3.1, 3.99', known)).toEqual({ unknown: '3.99' });
    expect(readRange('3.4 to 3.2', known)).toEqual({ unknown: '3.4 to 3.2' });
    expect(readRange(' ', known)).toEqual({ unknown: '' });
  });
  it('comes back from its own words', () => {
    const { addresses } = readRange('ring 2, 4.3', known) as { addresses: string[] };
    expect(readRange(addressWords(addresses), known)).toEqual({ addresses });
  });
});

describe('a sample', () => {
  it('is the same on every tablet of a casting, and another in another casting, operation or characteristic', () => {
    const [a, b] = tablets(['A', 'B'], plan) as [TestTablet, TestTablet];
    const at = (t: TestTablet) => coreSample(t.view(), position, '6.3')!.addresses;
    expect(at(a)).toEqual(at(b));
    const sets = [sampleOn('A'), sampleOn('other'), sampleOn('A', '6.4')].map((s) => s.addresses.join());
    expect(new Set(sets).size).toBe(3);
  });

  it('has as many cores as the plan says, none twice, spread over sixths and rings', () => {
    for (const name of ['A', 'B', 'C', 'D', 'E']) {
      const { addresses, lot } = sampleOn(name);
      expect([addresses.length, lot, new Set(addresses).size]).toEqual([60, 253, 60]);
      const cores = addresses.map((address) => coreByAddress(plan, address)!);
      for (let sector = 0; sector < 6; sector++) {
        const inSector = cores.filter(
          (c) => Math.floor(((Math.atan2(c.y_mm, c.x_mm) * 180) / Math.PI + 360 + 0.01) / 60) % 6 === sector,
        );
        expect(inSector.length).toBeGreaterThanOrEqual(9);
        expect(inSector.length).toBeLessThanOrEqual(11);
      }
      // Inner and outer half of the cores: a systematic sample keeps their shares to one a sixth.
      const inner = (list: readonly { ring: number }[]) => list.filter((c) => c.ring <= 6).length;
      const share = (60 * inner(whole)) / 253;
      expect(Math.abs(inner(cores) - share)).toBeLessThanOrEqual(6);
    }
  });

  it('takes every core about as often as any other', () => {
    const times = new Map<string, number>();
    const draws = 40;
    for (let i = 0; i < draws; i++)
      for (const address of sampleOn(`tablet ${i}`).addresses) times.set(address, (times.get(address) ?? 0) + 1);
    // Binomial with p = 60/253: mean 9.5, standard deviation 2.7; five of them upwards, and hardly ever none.
    for (const { address } of whole) expect(times.get(address) ?? 0).toBeLessThan(23);
    expect(times.size).toBeGreaterThan(250);
  });

  it('of gaps takes all those around each core drawn, in operations that do not read all', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    expect(coreSample(a.view(), gap, '6.3')).toBeNull();
    const sample = coreSample(a.view(), gap, '6.4')!;
    expect(sample.addresses).toHaveLength(50);
    const around = new Set(
      sample.addresses.flatMap((c) =>
        stationsByCore(plan, gap)
          .get(c)!
          .map((s) => s.id),
      ),
    );
    expect(new Set(sample.stations)).toEqual(around);
  });

  it('is enough once it is read and within; one outside asks for all', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    const { addresses } = coreSample(a.view(), position, '6.3')!;
    const state = () =>
      measureStates(a.view(), operationById(plan, '6.3')!).find((m) => m.characteristic.id === position.id)!;
    const mark = (address: string): CoreState['mark'] =>
      coreState(a.view(), '6.3', [{ kind: 'characteristic', characteristic: position }], address).mark;
    expect(state()).toMatchObject({ done: 0, needed: 60, enough: false });
    const passed = whole.find((c) => !addresses.includes(c.address))!.address;
    // What was not drawn does not make up for what was.
    read(a, passed, 0.2);
    addresses.slice(1).forEach((address) => {
      read(a, address, 0.2);
    });
    expect(state()).toMatchObject({ done: 59, needed: 60, enough: false });
    expect([mark(addresses[0]!), mark(addresses[1]!), mark(passed)]).toEqual(['missing', 'within', 'within']);
    const other = whole.find((c) => !addresses.includes(c.address) && c.address !== passed)!.address;
    expect(mark(other)).toBe('not-asked');
    read(a, addresses[0]!, 0.3);
    expect(state()).toMatchObject({ done: 60, needed: 60, enough: true, verdict: 'within' });
    read(a, other, 2);
    expect(state()).toMatchObject({ needed: 253, enough: false, verdict: 'outside' });
    expect(
      mark(whole.find((c) => !addresses.includes(c.address) && ![passed, other].includes(c.address))!.address),
    ).toBe('missing');
  });

  it('finds one bad core of so many with the chance that counting gives', () => {
    // All samples of a small lot, counted one by one.
    const lot = 7;
    for (const [sample, bad] of [
      [3, 2],
      [1, 1],
      [5, 3],
      [6, 1],
    ] as const) {
      let [found, all] = [0, 0];
      for (let set = 0; set < 2 ** lot; set++) {
        const drawn = Array.from({ length: lot }, (_, i) => (set >> i) & 1);
        if (drawn.filter(Boolean).length !== sample) continue;
        all += 1;
        if (drawn.slice(0, bad).some(Boolean)) found += 1;
      }
      expect(chanceToFind(lot, sample, bad)).toBeCloseTo(found / all, 12);
    }
    expect(chanceToFind(253, 50, 0)).toBe(0);
    expect(chanceToFind(253, 253, 1)).toBe(1);
  });

  it('has the source that ISO 2859-1 gives for it', () => {
    // ISO 2859-1:1989, tables I and II-A: a lot of 151 to 280 has code letter G at level II, whose arrow at
    // AQL 0.25 leads down to letter H: 50, none accepted.
    expect(sampleSource(253, 50)).toEqual({
      input: { lot_size: 253, aql_percent: 0.25, level: 'II' },
      sample_size: 50,
    });
    // No plan takes 60 or 25: the next smaller ones with none accepted are letters H and F.
    expect(sampleSource(253, 60)).toMatchObject({ sample_size: 50 });
    expect(sampleSource(253, 25)).toMatchObject({ sample_size: 20, input: { aql_percent: 0.65 } });
  });
});

function read(tablet: TestTablet, station: string, value: number): void {
  const taken = { plan, operation: '6.3', characteristic: position, station, read: value, instrument: null };
  expect(limitsAt(plan, position.id, '6.3', station).upper).toBe(1);
  tablet.write(
    'reading',
    {
      operation: '6.3',
      characteristic: position.id,
      station,
      ...judgedReading(taken),
      plan: planHashOf(plan),
      instrument: null,
      observer: technician.id,
      way: 'keypad',
    },
    technician,
    10,
  );
}
