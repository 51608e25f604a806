import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { heatPlan } from '../../shared/calculations/heat-plan.ts';
import { describeOutsideChecks, errorOf, type OutsideCheck, publishedData, resultOf } from './outside-checks.ts';
import { walkedPlan } from './walked-plan.ts';

interface PublishedPoint {
  at_h: number;
  planned_C: number;
  segment: number;
  rate_K_h: number;
}
const published = publishedData<(OutsideCheck & { points: PublishedPoint[] })[]>('heat-plan');
describeOutsideChecks(heatPlan);

describe('heat-plan', () => {
  it.each(published.map((check) => [check.id, check.source, check] as const))(
    '%s, points (%s)',
    (_id, _source, check) => {
      const { points } = resultOf(heatPlan, check.inputs);
      expect(points).toHaveLength(check.points.length);
      check.points.forEach((expected, k) => {
        expect(points[k]?.segment).toBe(expected.segment);
        expect(points[k]?.planned_C).toBeCloseTo(expected.planned_C, 9);
        expect(points[k]?.rate_K_h).toBe(expected.rate_K_h);
        expect(points[k]?.at_h).toBe(expected.at_h);
      });
    },
  );

  it('follows a set point that is moved on in small steps, as a controller moves it', () => {
    const step_h = 1 / 64;
    // Whole steps for every segment, so both courses turn at the same hours.
    const segments = [
      { to_C: 110, rate_K_h: 8 },
      { soak_h: 3.5 },
      { to_C: 560, rate_K_h: 32 },
      { to_C: 400, rate_K_h: 2.5 },
      { soak_h: 0.25 },
      { to_C: 420, rate_K_h: 64 },
      { to_C: 20, rate_K_h: 12.5 },
    ];
    const course = walkedPlan(30, segments, step_h);
    const at_h = course.map((_, k) => k * step_h);
    const { total_h, points } = resultOf(heatPlan, { start_C: 30, segments, at_h });
    expect(total_h).toBeCloseTo(at_h.at(-1) as number, 9);
    points.forEach(({ planned_C }, k) => {
      expect(Math.abs(planned_C - (course[k] as number))).toBeLessThan(1e-9);
    });
    // And what it calls the rate is the slope of that course up to the next step.
    points.slice(0, -1).forEach(({ rate_K_h }, k) => {
      const slope = ((course[k + 1] as number) - (course[k] as number)) / step_h;
      expect(Math.abs(rate_K_h - slope)).toBeLessThan(1e-6);
    });
  });

  it('gives the derived figures of the practice blank', () => {
    const segments = [{ soak_h: 48 }, { to_C: 550, rate_K_h: 0.3 }, { to_C: 460, rate_K_h: 0.15 }];
    const anneal = resultOf(heatPlan, { start_C: 565, segments, at_h: [0, 48, 98, 398, 698] });
    expect(anneal.total_h).toBe(698);
    expect(anneal.points.map((p) => p.planned_C)).toEqual([565, 565, 550, 505, 460]);
    expect(anneal.points.map((p) => p.segment)).toEqual([0, 1, 2, 2, 2]);
    const down = [
      { to_C: 400, rate_K_h: 0.24 },
      { to_C: 100, rate_K_h: 0.35 },
      { to_C: 35, rate_K_h: 0.3 },
      { soak_h: 24 },
    ];
    expect(resultOf(heatPlan, { start_C: 460, segments: down, at_h: [] }).total_h).toBeCloseTo(1347.81, 2);
    const casting = [
      { to_C: 110, rate_K_h: 5 },
      { soak_h: 24 },
      { to_C: 560, rate_K_h: 10 },
      { soak_h: 12 },
      { to_C: 750, rate_K_h: 15 },
      { soak_h: 8 },
      { to_C: 1160, rate_K_h: 20 },
      { soak_h: 8 },
      { to_C: 900, rate_K_h: 40 },
      { to_C: 650, rate_K_h: 30 },
      { to_C: 565, rate_K_h: 5 },
    ];
    const fired = resultOf(heatPlan, { start_C: 20, segments: casting, at_h: 173 });
    expect(fired.total_h).toBeCloseTo(180, 9);
    expect(fired.points[0]?.planned_C).toBeCloseTo(600, 9);
  });

  it('meets a join although its hour was added up elsewhere and differs in the last digit', () => {
    const segments = [{ to_C: 100, rate_K_h: 0.3 }, { to_C: 300, rate_K_h: 0.7 }, { soak_h: 5 }];
    const join = 80 / 0.3;
    for (const at_h of [join - 1e-13, join, join + 1e-13]) {
      const [point] = resultOf(heatPlan, { start_C: 20, segments, at_h }).points;
      expect(point?.segment).toBe(1);
      expect(point?.planned_C).toBeCloseTo(100, 9);
    }
  });

  it('is continuous, never steeper than its rates, and ends where its last segment ends', () => {
    const ramp = fc.record({
      to_C: fc.double({ min: -200, max: 1300, noNaN: true }),
      rate_K_h: fc.double({ min: 0.1, max: 200, noNaN: true }),
    });
    const soak = fc.record({ soak_h: fc.double({ min: 0, max: 100, noNaN: true }) });
    fc.assert(
      fc.property(fc.array(fc.oneof(ramp, soak), { minLength: 1, maxLength: 8 }), (segments) => {
        const { total_h } = resultOf(heatPlan, { start_C: 20, segments, at_h: 0 });
        const at_h = Array.from({ length: 101 }, (_, k) => total_h * (k / 100));
        const { points } = resultOf(heatPlan, { start_C: 20, segments, at_h });
        const steepest = Math.max(0, ...segments.map((s) => ('rate_K_h' in s ? s.rate_K_h : 0)));
        points.slice(1).forEach((p, k) => {
          const before = points[k]?.planned_C as number;
          expect(Math.abs(p.planned_C - before)).toBeLessThanOrEqual((steepest * total_h) / 100 + 1e-6);
        });
        const last = segments.findLast((s) => 'to_C' in s) as { to_C: number } | undefined;
        expect(points.at(-1)?.planned_C).toBe(last?.to_C ?? 20);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it.each([
    [{ start_C: 20, segments: [], at_h: 0 }, 'segments', 'needs at least 1 segment'],
    [
      { start_C: 20, segments: [{ to_C: 100 }], at_h: 0 },
      'segments.0',
      'must have either to_C with rate_K_h, or soak_h alone',
    ],
    [
      { start_C: 20, segments: [{ soak_h: 1 }, { to_C: 100, rate_K_h: 5, soak_h: 1 }], at_h: 0 },
      'segments.1',
      'must have either to_C with rate_K_h, or soak_h alone',
    ],
    [
      { start_C: 20, segments: [{ to_C: 100, rate_K_h: -5 }], at_h: 0 },
      'segments.0.rate_K_h',
      'must be greater than 0: the sign follows from to_C',
    ],
    [{ start_C: 20, segments: [{ soak_h: 2 }], at_h: [1, 3] }, 'at_h.1', 'must lie within the plan, 0 to 2 h'],
    [{ start_C: 20, segments: [{ soak_h: 2 }], at_h: -1 }, 'at_h', 'must lie within the plan, 0 to 2 h'],
    [
      { start_C: 20, segments: [{ to_C: 900, rate_K_h: 5e-324 }], at_h: 0 },
      'segments.0',
      'takes longer than can be computed',
    ],
    [
      { start_C: 20, segments: [{ soak_h: 2 }], at_h: 'noon' },
      'at_h',
      'must be a finite number or an array of finite numbers',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(heatPlan, input)).toEqual({ path, message });
  });
});
