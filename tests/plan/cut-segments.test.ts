import { describe, expect, it } from 'vitest';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { addFault, cutSegments, removeFault, type SegmentCut } from '../../shared/plan/cut-segments.ts';
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
    expect(removeFault(twice, back, 2)).toMatch(/where it would begin/);
    expect(removeFault(twice, { ...back, segments: [back.segments[0]!] }, 0)).toMatch(/at least one/);
    expect(removeFault(plan, heatOf(plan, 'P1'), 2)).toBeNull();
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
    const free = { ...plan, stationSets: {} };
    const before = cutSegments(free, [{ act: 'add', heat: 'P3', after: 0, as: 'soak' }]);
    expect(ahead(before)).toEqual(ahead(plan)?.map((n) => n + 1));
    expect(noneMissed(cutSegments(plan, [{ act: 'remove', heat: 'P1', at: 2 }]))[0]).toEqual([2, 3, 5]);
  });

  it('are not taken out while a hold point, an alarm or a moment names them', () => {
    const taken = (heat: string, at: number, of = plan) => {
      const fault = removeFault(of, heatOf(of, heat), at);
      expect(cutSegments(of, [{ act: 'remove', heat, at }]) === of).toBe(fault !== null);
      return fault;
    };
    const [hold] = plan.holds.filter((h) => h.requirements.some((r) => r.kind === 'rounds' && r.heatPlan === 'P1'));
    expect(taken('P1', 3)).toContain(`Segment 4 cannot be taken out: hold point ${hold!.id} asks for its rounds`);
    const alarm = plan.alarms.find((a) => a.watch?.on === 'rise')!;
    expect(taken('P4', 2)).toBe(`Segment 3 cannot be taken out: alarm ${alarm.id} watches it.`);
    const everywhere = { ...plan, alarms: [{ ...alarm, heatPlans: undefined }] };
    expect(taken('P1', 2, everywhere)).toContain(`alarm ${alarm.id} watches it`);
    const moment = plan.handover.moments!.find((m) => m.ahead)!;
    expect(taken('P3', moment.ahead!.segment - 1, { ...plan, stationSets: {} })).toContain(moment.words);
  });

  it('keep the numbers by which limits stand: nothing is added or taken out in front of them', () => {
    const P3 = heatOf(plan, 'P3');
    const last = P3.segments.length;
    expect(addFault(plan, P3, 0)).toBe(
      'Segments 2, 3, 4, 5, 6, 9, 10, 11 of P3 must keep their numbers: limits go by them (Spread of FC, BP and MC; Fast cool, rate; Fast cool, spread of FC and BP).',
    );
    expect(addFault(plan, P3, 8)).toMatch(
      /^Segments 10, 11 of P3 .*\(Fast cool, rate; Fast cool, spread of FC and BP\)/,
    );
    expect(addFault(plan, P3, 9)).toMatch(/^Segment 11 of P3 must keep its number: limits go by it \(/);
    expect(removeFault(plan, P3, 6)).toMatch(/^Segments 9, 10, 11 of P3/);
    for (const cut of [
      { act: 'add', heat: 'P3', after: 6, as: 'soak' },
      { act: 'remove', heat: 'P3', at: 6 },
    ] as const)
      expect(cutSegments(plan, [cut])).toBe(plan);
    const behind = cutSegments(plan, [{ act: 'add', heat: 'P3', after: 10, as: 'soak' }]);
    expect(heatOf(behind, 'P3').segments).toHaveLength(last + 1);
    expect(heatOf(behind, 'P3').segments.slice(0, 11)).toEqual(P3.segments.slice(0, 11));
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
