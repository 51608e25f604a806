import { describe, expect, it } from 'vitest';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { cutSegments, removeFault, type SegmentCut } from '../../shared/plan/cut-segments.ts';
import { heatPlanHours } from '../../shared/plan/heat-plan-hours.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { type Plan, planSchema } from '../../shared/plan/schema.ts';
import { emptyDraft, withCut, withoutHeat, withoutLastCut } from '../../src/tablet/shared-screens/plan-draft.ts';

const plan = buildPlan(practiceDesign);
const heatOf = (of: Plan, id: string) => of.heatPlans.find((h) => h.id === id)!;
const watched = (of: Plan) => of.alarms.flatMap((a) => (a.watch?.on === 'rise' ? [a.watch.segment] : []));
const noneMissed = (of: Plan) =>
  of.holds.flatMap((h) =>
    h.requirements.flatMap((r) => (r.kind === 'rounds' && r.heatPlan === 'P1' ? [r.noneMissedIn] : [])),
  );

describe('segments of a heat plan', () => {
  it('are added: a soak of an hour where the segment before ends, a ramp on the way that the heat takes', () => {
    const soak = cutSegments(plan, [{ act: 'add', heat: 'P4', after: 1, as: 'soak' }]);
    expect(heatOf(soak, 'P4').segments[2]).toMatchObject({ to_C: heatOf(plan, 'P4').segments[1]!.to_C, soak_h: 1 });
    expect(heatPlanHours(heatOf(soak, 'P4'))).toBeCloseTo(heatPlanHours(heatOf(plan, 'P4')) + 1, 9);
    const ramp = cutSegments(plan, [{ act: 'add', heat: 'P4', after: 1, as: 'ramp' }]);
    const [before, added] = heatOf(ramp, 'P4').segments.slice(1);
    expect(added!.to_C).toBe(before!.to_C - 10);
    expect(planSchema.safeParse(ramp).success).toBe(true);
    // On the way down it takes what the next would have taken.
    expect(heatPlanHours(heatOf(ramp, 'P4'))).toBeLessThan(heatPlanHours(heatOf(plan, 'P4')));
  });

  it('are taken out, and the soaks behind them stay where they now begin', () => {
    const cut = cutSegments(plan, [{ act: 'remove', heat: 'P1', at: 2 }]);
    const segments = heatOf(cut, 'P1').segments;
    expect(segments).toHaveLength(heatOf(plan, 'P1').segments.length - 1);
    expect(segments[2]).toMatchObject({ soak_h: 12, to_C: 120 });
    expect(segments[3]!.to_C).toBe(heatOf(plan, 'P1').segments[4]!.to_C);
  });

  it('are not taken out where the next would go nowhere, or none would be left', () => {
    const twice = cutSegments(plan, [{ act: 'add', heat: 'P4', after: 2, as: 'ramp' }]);
    const back = { ...heatOf(twice, 'P4'), segments: [...heatOf(twice, 'P4').segments] };
    back.segments[3] = { ...back.segments[3]!, to_C: back.segments[1]!.to_C };
    expect(removeFault(back, 2)).toMatch(/where it would begin/);
    expect(removeFault({ ...back, segments: [back.segments[0]!] }, 0)).toMatch(/at least one/);
    expect(removeFault(heatOf(plan, 'P4'), 2)).toBeNull();
    const none: SegmentCut = { act: 'remove', heat: 'P4', at: 99 };
    expect(cutSegments(plan, [none])).toBe(plan);
  });

  it('keep the numbers by which hold points and alarms name them', () => {
    expect([watched(plan), noneMissed(plan)[0]]).toEqual([[3], [2, 4, 6]]);
    const more = cutSegments(plan, [
      { act: 'add', heat: 'P4', after: 0, as: 'ramp' },
      { act: 'add', heat: 'P1', after: 2, as: 'soak' },
    ]);
    expect([watched(more), noneMissed(more)[0]]).toEqual([[4], [2, 5, 7]]);
    const ahead = (of: Plan) => of.handover.moments?.flatMap((m) => m.ahead?.segment ?? []);
    const before = cutSegments(plan, [{ act: 'add', heat: 'P3', after: 0, as: 'soak' }]);
    expect(ahead(before)).toEqual(ahead(plan)?.map((n) => n + 1));
    expect(noneMissed(cutSegments(plan, [{ act: 'remove', heat: 'P1', at: 3 }]))[0]).toEqual([2, 5]);
  });
});

describe('the draft of a revision', () => {
  const typed = {
    'heatPlans/P4/segments/0/soak_h': '40',
    'heatPlans/P4/segments/2/rate_K_h': '0.2',
    'operations/1.1/hours': '9',
  };
  const draft = { ...emptyDraft, typed };

  it('moves what was typed with its segment, and takes a cut back with it', () => {
    const cut = { ...draft, ...withCut(draft, { act: 'add', heat: 'P4', after: 0, as: 'soak' }) };
    expect(cut.typed).toEqual({
      'heatPlans/P4/segments/0/soak_h': '40',
      'heatPlans/P4/segments/3/rate_K_h': '0.2',
      'operations/1.1/hours': '9',
    });
    expect({ ...cut, ...withoutLastCut(cut, 'P4') }).toEqual({ ...draft, item: '' });
    const gone = withCut(draft, { act: 'remove', heat: 'P4', at: 2 });
    expect(Object.keys(gone.typed)).toEqual(['operations/1.1/hours', 'heatPlans/P4/segments/0/soak_h']);
    expect(withoutHeat(cut, 'P4')).toMatchObject({ typed: { 'operations/1.1/hours': '9' }, cuts: [] });
  });
});
