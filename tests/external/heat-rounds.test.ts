import { describe, expect, it } from 'vitest';
import { rateOver } from '../../shared/logbook/state/channels.ts';
import { plannedAtHours, segmentEnds } from '../../shared/logbook/state/heat.ts';
import { dueRounds } from '../../shared/logbook/state/rounds.ts';
import type { HeatPlan } from '../../shared/plan/schema.ts';
import { publishedData } from './outside-checks.ts';

interface PublishedHeat {
  readonly id: string;
  readonly start_C: number;
  readonly segments: readonly { to_C: number; rate_K_h?: number; soak_h?: number }[];
  /** Hours, °C and K/h that the source gives, or that follow from it by hand. */
  readonly points: readonly (readonly [hour: number, planned_C: number, rate_K_h: number])[];
  readonly total_h: number;
  readonly source: string;
}
interface PublishedRate {
  readonly id: string;
  readonly readings: readonly (readonly [hour: number, value: number])[];
  readonly rate: number;
  readonly tolerance: number;
  readonly source: string;
}
const { heats, rates } = publishedData<{ heats: PublishedHeat[]; rates: PublishedRate[] }>('heat-rounds');

const HOUR_MS = 3_600_000;

const planOf = ({ id, start_C, segments }: PublishedHeat): HeatPlan => ({
  id,
  name: id,
  operations: ['1'],
  start_C,
  control: ['BP'],
  segments: segments.map((s) => ({ ...s, band_K: 5, spread_K: 10, rounds: [{ extent: 'full', every_h: 1 }] })),
});

describe('the planned temperature and rate beside a channel', () => {
  it.each(heats.map((h) => [h.id, h.source, h] as const))('%s (%s)', (_id, _source, heat) => {
    const plan = planOf(heat);
    expect(segmentEnds(plan).at(-1)).toBeCloseTo(heat.total_h, 9);
    const found = plannedAtHours(
      plan,
      heat.points.map(([hour]) => hour),
    );
    heat.points.forEach(([, planned_C, rate_K_h], i) => {
      expect(found[i]!.planned_C).toBeCloseTo(planned_C, 9);
      expect(found[i]!.rate_K_h).toBeCloseTo(rate_K_h, 9);
    });
    // A round an hour, as in any heat of that many hours.
    expect(dueRounds(plan).every((d) => d.at_h < heat.total_h)).toBe(true);
  });
});

describe('the rate of a channel over its last rounds', () => {
  it.each(rates.map((r) => [r.id, r.source, r] as const))('%s (%s)', (_id, _source, { readings, rate, tolerance }) => {
    const points = readings.map(([hour, value]) => ({ at_ms: hour * HOUR_MS, value }));
    const found = rateOver(points, points.at(-1)!.at_ms);
    expect(Math.abs(found! - rate)).toBeLessThanOrEqual(tolerance);
  });
});
