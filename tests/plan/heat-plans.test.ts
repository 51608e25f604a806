import { describe, expect, test } from 'vitest';
import { coolingStress } from '../../shared/calculations/cooling-stress.ts';
import { heatPlan } from '../../shared/calculations/heat-plan.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { heatPlanHours, heatPlanInput } from '../../shared/plan/heat-plan-hours.ts';
import { operationById } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { HeatPlan } from '../../shared/plan/schema.ts';
import { designs } from './designs.ts';

const plan = buildPlan(practiceDesign);
const heat = (id: string, of = plan): HeatPlan => of.heatPlans.find((p) => p.id === id)!;

describe('heat plans of the practice blank, derived', () => {
  test.each([
    ['P1', 166.2],
    ['P2', 250.1],
    ['P3', 180.0],
    ['P4', 698.0],
    ['P5', 1347.8],
  ])('%s lasts %d h', (id, hours) => {
    expect(heatPlanHours(heat(id)).toFixed(1)).toBe(hours.toFixed(1));
  });

  test.each([
    ['P1', [10, 34, 58, 70, 99, 107, 130.2, 166.2]],
    ['P2', [11.25, 47.25, 77.25, 101.25, 121.25, 133.25, 168.58, 178.58, 212.58, 250.08]],
    ['P3', [18, 42, 87, 99, 111.67, 119.67, 140.17, 148.17, 154.67, 163, 180]],
    ['P4', [48, 98, 698]],
    ['P5', [250, 1107.14, 1323.81, 1347.81]],
  ])('%s ends its segments at the hours of its table', (id, ends) => {
    const p = heat(id);
    let from = p.start_C;
    let end = 0;
    const found = p.segments.map((s) => {
      end += s.soak_h ?? Math.abs(s.to_C - from) / s.rate_K_h!;
      from = s.to_C;
      return Number(end.toFixed(2));
    });
    expect(found).toEqual(ends);
  });

  test('600 °C in the fast cool is reached at 173.0 h', () => {
    const { points } = heatPlan.compute(heatPlanInput(heat('P3'), [173]));
    expect(points[0]!.planned_C).toBeCloseTo(600, 6);
  });
});

describe.each(designs)('heat plans of the $name', ({ design }) => {
  const built = buildPlan(design);

  test('soaks stay where the ramp before them ended', () => {
    for (const p of built.heatPlans) {
      p.segments.forEach((s, i) => {
        expect(s.soak_h === undefined, `${p.id}.${i + 1}`).toBe(s.rate_K_h !== undefined);
        if (s.soak_h !== undefined) expect(s.to_C).toBe(p.segments[i - 1]?.to_C ?? p.start_C);
      });
    }
  });

  test('cast, anneal and cool-down join', () => {
    expect(heat('P3', built).segments.at(-1)!.to_C).toBe(heat('P4', built).start_C);
    expect(heat('P4', built).segments.at(-1)!.to_C).toBe(heat('P5', built).start_C);
  });

  test('operations last as long as their heat', () => {
    const hours = (id: string) => operationById(built, id)!.hours;
    expect(hours('11.3')).toBe(Math.ceil(heatPlanHours(heat('P4', built)) - 1e-6));
    expect(hours('11.4')).toBe(Math.ceil(heatPlanHours(heat('P5', built)) - 1e-6));
    expect(Math.abs(hours('4.1') - heatPlanHours(heat('P1', built)))).toBeLessThan(1);
    expect(Math.abs(hours('7.1') - heatPlanHours(heat('P2', built)))).toBeLessThan(1);
    const casting = ['9.2', '9.3', '10.1', '11.1'].reduce((sum, id) => sum + hours(id), 0);
    expect(Math.abs(casting - heatPlanHours(heat('P3', built)))).toBeLessThanOrEqual(1);
  });

  test('planned rates keep to the permitted stresses', () => {
    const sag_mm = design.blank_diameter_mm ** 2 / 8000 / design.radius_of_curvature_m;
    const stressAt = (rate_K_h: number) =>
      coolingStress.compute({
        rate_K_h,
        half_thickness_mm: (design.centre_thickness_mm + sag_mm) / 2,
        diffusivity_mm2_s: design.diffusivity_mm2_s,
        modulus_GPa: design.modulus_GPa,
        poisson: design.poisson,
        expansion_per_K: design.glass_expansion_per_K,
      });
    const slow = heat('P4', built).segments[2]!.rate_K_h!;
    expect(stressAt(slow).permanent_centre_stress_MPa).toBeLessThan(design.permanent_stress_MPa);
    for (const { rate_K_h } of heat('P5', built).segments) {
      if (rate_K_h === undefined) continue;
      expect(stressAt(rate_K_h).temporary_surface_stress_MPa).toBeLessThan(design.temporary_stress_MPa);
    }
  });
});
