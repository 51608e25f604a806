import { describe, expect, it } from 'vitest';
import type { Body } from '../../shared/logbook/kinds.ts';
import { conditionsOf } from '../../shared/logbook/state/conditions.ts';
import { stabilityOf, stabilityWords } from '../../shared/logbook/state/stability.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Characteristic, Plan } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { type TestTablet, tablets, technician } from './world.ts';

const [width] = smallPlan.characteristics as [Characteristic];
const [blank] = smallPlan.operations as [Plan['operations'][number]];
const operation = (id: string, after: string | null, heatPlan: string | null = null) => ({
  ...blank,
  id,
  after: after === null ? [] : [{ id: after, type: 'FS' as const, lag_h: 0 }],
  measures: heatPlan ? [] : ['diameter'],
  heatPlan,
});

/** Surveyed as built and after each of two heats; a change of at most 1.5 mm either way is allowed. */
const plan: Plan = {
  ...smallPlan,
  operations: [
    operation('1', null),
    operation('2', '1', 'P1'),
    operation('3', '2'),
    operation('4', '3', 'P1'),
    operation('5', '4'),
  ],
  characteristics: [
    { ...width, id: 'diameter', name: 'diameter', operations: ['1', '3', '5'] },
    {
      ...width,
      id: 'tub-permanent-change',
      name: 'change',
      operations: ['3', '5'],
      kind: 'derived',
      limits: [{ nominal: 0, lower: -1.5, upper: 1.5 }],
      uncertainty: 0.2,
      derivedFrom: { calculation: null, characteristics: ['diameter'], words: 'after less before' },
    },
  ],
  holds: [],
};

let minute = 10;
function survey(tablet: TestTablet, at: string, values: Readonly<Record<string, number>>): void {
  for (const [station, value] of Object.entries(values)) {
    const body: Body<'reading'> = {
      operation: at,
      characteristic: 'diameter',
      station,
      typed: { text: String(value), unit: 'mm', value },
      conditions: {},
      value,
      limits: { nominal: 100, lower: 99, upper: 101 },
      standardUncertainty: 0.1,
      guard: 0.165,
      verdict: null,
      plan: planHashOf(plan),
      calculations: {},
      instrument: null,
      observer: technician.id,
      way: 'keypad',
    };
    tablet.write('reading', body, technician, minute++);
  }
}

const found = (tablet: TestTablet) => stabilityOf(tablet.view(), plan.characteristics[0]!)!;

describe('whether the heats still change what is surveyed', () => {
  it('cannot be said before two heats', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    survey(a, '1', { a: 100, b: 100, c: 100 });
    expect(found(a)).toMatchObject({ heats: [], stable: null });
    expect(stabilityWords(found(a))).toBe('no heat between two surveys yet');
    survey(a, '3', { a: 100.2, b: 99.6, c: 101 });
    expect(found(a).stable).toBeNull();
    expect(found(a).heats).toMatchObject([
      { before: '1', after: '3', heats: ['2'], stations: 3, less: 3, complete: true },
    ]);
    expect(stabilityWords(found(a))).toBe('less than the limit in 1 heat; stable once 2 in a row are');
  });

  it('is so once two in a row changed every station less than the limit, with its uncertainty', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    survey(a, '1', { a: 100, b: 100, c: 100 });
    survey(a, '3', { a: 100.2, b: 99.6, c: 101 });
    survey(a, '5', { a: 100.3, b: 99.5 });
    // A station that was not read again may be the one that moved.
    expect(found(a).stable).toBe(false);
    survey(a, '5', { c: 102.16 });
    expect(found(a).stable).toBe(true);
    expect(found(a).heats[1]!.most).toBeCloseTo(1.16, 9);
    expect(stabilityWords(found(a))).toMatch(/^stable: less than the limit in 2 heats/);
  });

  it('is not so where one station changed as much as the limit less its guard of 1.65 · 0.2 mm', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    survey(a, '1', { a: 100, b: 100, c: 100 });
    // 1.5 − 0.33 = 1.17: 1.18 is not proven to be less.
    survey(a, '3', { a: 100, b: 100, c: 98.82 });
    survey(a, '5', { a: 100, b: 100, c: 98.82 });
    expect(found(a)).toMatchObject({ stable: false, heats: [{ less: 2 }, { less: 3 }] });
  });

  it('is not so over a heat whose survey was not read: that breaks the row', () => {
    const longer: Plan = {
      ...plan,
      operations: [
        ...plan.operations,
        ...['6', '8', '10'].flatMap((id) => [
          operation(id, String(Number(id) - 1), 'P1'),
          operation(String(Number(id) + 1), id),
        ]),
      ],
      characteristics: plan.characteristics.map((c) => ({
        ...c,
        operations: [...c.operations, '7', '9', '11'],
      })),
    };
    const [a] = tablets(['A'], longer) as [TestTablet];
    const stability = () => stabilityOf(a.view(), longer.characteristics[0]!)!;
    for (const at of ['1', '3', '7', '9']) survey(a, at, { a: 100, b: 100, c: 100 });
    expect(stability().heats.map((h) => [h.after, h.stations, h.complete])).toEqual([
      ['3', 3, true],
      ['5', 0, false],
      ['7', 0, false],
      ['9', 3, true],
    ]);
    expect(stability().stable).toBe(false);
    survey(a, '11', { a: 100, b: 100, c: 100 });
    expect(stability().stable).toBe(true);
  });

  it('is said with the change that a hold point asks for', () => {
    const hold: Plan['holds'][number] = {
      ...smallPlan.holds[0]!,
      after: '5',
      before: [],
      operations: ['5'],
      requirements: [{ kind: 'characteristic', characteristic: 'tub-permanent-change', operation: '5' }],
    };
    const [a] = tablets(['A'], plan) as [TestTablet];
    for (const at of ['1', '3', '5']) survey(a, at, { a: 100, b: 100, c: 100 });
    const change = conditionsOf(a.view(), hold, () => true).find(
      (c) => c.id === 'characteristic/5/tub-permanent-change',
    )!;
    expect(change).toMatchObject({ met: false });
    expect(change.words).toMatch(/; stable: less than the limit in 2 heats in a row$/);
  });

  it('is asked of the tub of the built-in plan, and of nothing that no change limits', () => {
    const own = buildPlan(practiceDesign);
    const [a] = tablets(['A'], own) as [TestTablet];
    const of = (id: string) => stabilityOf(a.view(), own.characteristics.find((c) => c.id === id)!);
    expect(of('tub-diameter-20')).toMatchObject({
      limitedBy: { id: 'tub-permanent-change' },
      limit: { lower: -1.5, upper: 1.5 },
    });
    expect(of('floor-level')).toBeNull();
  });
});
