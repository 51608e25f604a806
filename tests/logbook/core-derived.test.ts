import { describe, expect, it } from 'vitest';
import type { Body } from '../../shared/logbook/kinds.ts';
import { conditionsOf } from '../../shared/logbook/state/conditions.ts';
import { isWorkedOut, judge } from '../../shared/logbook/state/derived.ts';
import { findingsOf } from '../../shared/logbook/state/findings.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import type { Characteristic, Plan } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { lead, type TestTablet, tablets, technician } from './world.ts';

const [width] = smallPlan.characteristics as [Characteristic];
const [first, second, third] = smallPlan.operations as [
  Plan['operations'][number],
  Plan['operations'][number],
  Plan['operations'][number],
];
const characteristic = (
  c: Pick<Characteristic, 'id' | 'operations' | 'stations' | 'limits'> & Partial<Characteristic>,
) => ({
  ...width,
  name: c.id,
  ...c,
});

/**
 * Two cores before and after their bake: one on the axis, one 1200 mm away. The design of the practice blank: 280 mm thick
 * on the axis, back 25 mm, face 28 mm, radius of curvature 10.24 m.
 */
const plan: Plan = {
  ...smallPlan,
  operations: [
    { ...first, id: '6.4', measures: ['core-top-height'] },
    {
      ...second,
      id: '7.2',
      after: [{ id: '6.4', type: 'FS', lag_h: 0 }],
      measures: ['core-top-height', 'core-height-change', 'core-gap', 'gap-mean'],
    },
    { ...third, id: '7.3', after: [{ id: '7.2', type: 'FS', lag_h: 0 }], measures: ['face-sheet-thickness'] },
  ],
  stationSets: {
    C: [
      { id: '0.1', label: 'core 0.1', x_mm: 0, y_mm: 0 },
      { id: '6.1', label: 'core 6.1', x_mm: 1200, y_mm: 0 },
    ],
    gaps: ['a', 'b', 'c'].map((id) => ({ id, label: id })),
  },
  characteristics: [
    characteristic({
      id: 'core-top-height',
      operations: ['6.4', '7.2'],
      stations: 'C',
      limits: [{ nominal: 252, lower: null, upper: null }],
    }),
    characteristic({
      id: 'core-height-change',
      operations: ['7.2'],
      unit: '%',
      kind: 'derived',
      stations: 'C',
      limits: [{ nominal: -0.3, lower: -0.6, upper: 0 }],
      uncertainty: 0.06,
      derivedFrom: { calculation: 'control-chart', characteristics: ['core-top-height'], words: 'worked out' },
    }),
    characteristic({
      id: 'core-gap',
      operations: ['7.2'],
      stations: 'gaps',
      limits: [{ nominal: 12, lower: 10.8, upper: 13.2 }],
    }),
    characteristic({
      id: 'gap-mean',
      operations: ['7.2'],
      kind: 'derived',
      stations: null,
      limits: [{ nominal: 12, lower: 11.7, upper: 12.3 }],
      uncertainty: 0.03,
      derivedFrom: { calculation: null, characteristics: ['core-gap'], words: 'mean of the gaps' },
    }),
    characteristic({
      id: 'face-sheet-thickness',
      operations: ['7.3'],
      kind: 'derived',
      stations: 'C',
      limits: [{ nominal: 28, lower: 27, upper: 29 }],
      uncertainty: 0.15,
      derivedFrom: { calculation: null, characteristics: ['core-top-height'], words: 'worked out' },
    }),
  ],
  holds: smallPlan.holds.map((h) => ({
    ...h,
    after: '7.3',
    before: [],
    operations: ['7.3'],
    requirements: [
      { kind: 'characteristic', characteristic: 'gap-mean', operation: '7.2' },
      { kind: 'characteristic', characteristic: 'face-sheet-thickness', operation: '7.3' },
    ],
  })),
};

let minute = 10;
const read = (tablet: TestTablet, operation: string, id: string, station: string, value: number, replaces?: string) => {
  const body: Body<'reading'> = {
    operation,
    characteristic: id,
    station,
    typed: { text: String(value), unit: 'mm', value },
    conditions: {},
    value,
    limits: { ...plan.characteristics.find((c) => c.id === id)!.limits[0]! } as Body<'reading'>['limits'],
    standardUncertainty: 0.15,
    guard: 0.25,
    verdict: null,
    plan: planHashOf(plan),
    calculations: {},
    instrument: null,
    observer: technician.id,
    way: 'keypad',
    ...(replaces ? { replaces } : {}),
  };
  return tablet.write('reading', body, technician, minute++);
};

const values = (tablet: TestTablet, id: string, operation: string) =>
  judge.derive(tablet.view(), id, operation)!.map((d) => [d.station, Number(d.value.toFixed(4)), d.verdict]);
const condition = (tablet: TestTablet, id: string) =>
  conditionsOf(tablet.view(), plan.holds[0]!, () => true).find((c) => c.id === `characteristic/${id}`)!;

describe('what is worked out from the cores', () => {
  it('gives the change of height in % of the height that the core had, read by read', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    const before = read(a, '6.4', 'core-top-height', '0.1', 252.69);
    expect(values(a, 'core-height-change', '7.2')).toEqual([]);
    const after = read(a, '7.2', 'core-top-height', '0.1', 252);
    // By hand: 100 · (252.00 − 252.69) / (252.69 − 25) = −0.3030.
    expect(values(a, 'core-height-change', '7.2')).toEqual([['0.1', -0.303, 'within']]);
    expect(judge.derive(a.view(), 'core-height-change', '7.2')![0]!.causes).toEqual([before.hash, after.hash]);
    read(a, '7.2', 'core-top-height', '0.1', 250, after.hash);
    // 100 · (250.00 − 252.69) / 227.69 = −1.1814: it shrank too far, and that is a finding.
    expect(values(a, 'core-height-change', '7.2')).toEqual([['0.1', -1.1814, 'outside']]);
    expect(findingsOf(a.view(), '7.2').map((f) => [f.rule, f.station])).toContainEqual(['derived-outside', '0.1']);
  });

  it('is known by its name alone, and what is measured is not', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    for (const { id, operations, kind } of plan.characteristics) {
      expect([id, isWorkedOut(id)]).toEqual([id, kind === 'derived']);
      expect([id, judge.derive(a.view(), id, operations[0]!) !== null]).toEqual([id, kind === 'derived']);
    }
    // What every object has by its nature is no derivation.
    expect(isWorkedOut('constructor')).toBe(false);
  });

  it('gives no change for a core that was changed in between', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    read(a, '6.4', 'core-top-height', '0.1', 252.69);
    const change: Body<'core-change'> = {
      operation: '7.2',
      station: '0.1',
      serial: 'another',
      reason: 'cracked',
      plan: planHashOf(plan),
      observer: technician.id,
      way: 'keypad',
      name: lead.name,
    };
    a.write('core-change', change, lead, minute++);
    read(a, '7.2', 'core-top-height', '0.1', 252);
    expect(values(a, 'core-height-change', '7.2')).toEqual([]);
    // Its face follows from where its top stands now.
    expect(values(a, 'face-sheet-thickness', '7.3')).toEqual([['0.1', 28, 'within']]);
  });

  it('gives the face over each core, and the hold point asks for all of them', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    read(a, '7.2', 'core-top-height', '0.1', 252);
    expect(condition(a, '7.3/face-sheet-thickness')).toMatchObject({
      met: false,
      count: [1, 2],
      // What is missing is read in the operation before.
      mend: { to: 'survey', operation: '7.2', characteristic: 'core-top-height' },
    });
    read(a, '7.2', 'core-top-height', '6.1', 322);
    // By hand: 280 + 1200² / (2 · 10 240) − 322 = 280 + 70.3125 − 322 = 28.3125.
    expect(values(a, 'face-sheet-thickness', '7.3')).toEqual([
      ['0.1', 28, 'within'],
      ['6.1', 28.3125, 'within'],
    ]);
    expect(condition(a, '7.3/face-sheet-thickness').met).toBe(true);
  });

  it('gives the mean gap once every gap that is asked for is read', () => {
    const [a] = tablets(['A'], plan) as [TestTablet];
    read(a, '7.2', 'core-gap', 'a', 12.1);
    read(a, '7.2', 'core-gap', 'b', 12.4);
    expect(values(a, 'gap-mean', '7.2')).toEqual([]);
    expect(condition(a, '7.2/gap-mean')).toMatchObject({ met: false });
    const last = read(a, '7.2', 'core-gap', 'c', 11.8);
    expect(values(a, 'gap-mean', '7.2')).toEqual([['one', 12.1, 'within']]);
    read(a, '7.2', 'core-gap', 'c', 13, last.hash);
    expect(values(a, 'gap-mean', '7.2')).toEqual([['one', 12.5, 'outside']]);
    expect(condition(a, '7.2/gap-mean').met).toBe(false);
  });
});
