import { describe, expect, it } from 'vitest';
import { planStress } from '../../shared/furnace/plan-stress.ts';
import { segmentEnds } from '../../shared/logbook/state/heat.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { figureFaults, planItems, revisePlan } from '../../shared/plan/revise-plan.ts';

const plan = buildPlan(practiceDesign);
const heat = (id: string, of = plan) => of.heatPlans.find((h) => h.id === id)!;

describe('the stress that the rates of a heat plan imply', () => {
  it('stays in the glass where it sets, and passes below', () => {
    const [soak, slow, setting] = planStress(plan, heat('P4'));
    expect([soak!.does, slow!.does, setting!.does]).toEqual(['still', 'relaxes', 'sets']);
    // Adams and Williamson, J. Franklin Inst. 190 (1920): h a²/2κ with 0.15 K/h, 202.5 mm, 0.60 mm²/s, by hand.
    expect(setting!.stress!.centre_minus_surface_K).toBeCloseTo((0.15 / 3600) * (202.5 ** 2 / (2 * 0.6)), 6);
    expect(setting!.permitted_K_h).toBeCloseTo(0.239, 3);
    const below = planStress(plan, heat('P5'));
    expect(below.map((s) => s.does)).toEqual(['set', 'set', 'set', 'still']);
    expect(below[1]!.permitted_K_h).toBeCloseTo(0.419, 3);
    expect(below[1]!.stress!.temporary_surface_stress_MPa).toBeGreaterThan(0);
  });

  it('is none without glass, or while the glass relaxes', () => {
    expect(new Set(planStress(plan, heat('P1')).map((s) => s.does))).toEqual(new Set(['no-glass']));
    expect(new Set(planStress(plan, heat('P3')).map((s) => s.does))).toEqual(new Set(['still', 'relaxes']));
  });

  it('follows a rate that is set anew, past what is permitted too', () => {
    const faster = revisePlan(plan, new Map([['heatPlans/P4/segments/2/rate_K_h', 0.3]]), '2');
    const [was, now] = [plan, faster].map((p) => planStress(p, heat('P4', p))[2]!);
    expect(now!.stress!.permanent_centre_stress_MPa).toBeCloseTo(2 * was!.stress!.permanent_centre_stress_MPa, 12);
    expect(-now!.rate_K_h).toBeGreaterThan(now!.permitted_K_h!);
    expect(segmentEnds(heat('P4', faster)).at(-1)).toBeCloseTo(398, 9);
  });
});

describe('a segment set anew', () => {
  it('takes the soaks behind it along', () => {
    const hotter = revisePlan(plan, new Map([['heatPlans/P1/segments/4/to_C', 1200]]), '2');
    expect(heat('P1', hotter).segments.map((s) => s.to_C)).toEqual([120, 120, 600, 600, 1200, 1200, 600, 60]);
    expect(plan.heatPlans[0]!.segments[5]!.to_C).toBe(1180);
  });

  it('offers what a ramp and a soak have, each with its unit', () => {
    const figures = (i: number) =>
      planItems(plan)
        .find((item) => item.id === `heatPlans/P1/segments/${i}`)!
        .figures.map((f) => [f.path.split('/').at(-1), f.unit]);
    expect(figures(0).slice(0, 3)).toEqual([
      ['to_C', '°C'],
      ['rate_K_h', 'K/h'],
      ['band_K', 'K'],
    ]);
    expect(figures(1)[0]).toEqual(['soak_h', 'h']);
  });

  it.each([
    [['heatPlans/P1/segments/2/to_C', 120], /begins at 120 °C already/],
    [['heatPlans/P4/segments/1/to_C', 460], /next segment ends at 460 °C as well/],
    [['heatPlans/P1/segments/0/rate_K_h', 0], /above 0 K\/h/],
    [['heatPlans/P1/segments/1/soak_h', -1], /above 0 h/],
    [['heatPlans/P1/segments/0/to_C', -300], /above -273.15 °C/],
  ] as const)('says what is wrong with %j', ([path, value], words) => {
    expect(figureFaults(plan, new Map([[path, value]])).get(path)).toMatch(words);
  });
});
