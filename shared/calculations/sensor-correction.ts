import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { temperatureC } from './fields.ts';

/** Sensors that are further off are broken. */
const correction = () =>
  z
    .number()
    .check(
      z.gte(-500, 'is below -500 K: no sensor is so far off'),
      z.lte(500, 'is above 500 K: no sensor is so far off'),
    );

const input = z.strictObject({
  /** Of the calibration, in any order. */
  points: z
    .array(z.strictObject({ indicated_C: temperatureC(), correction_K: correction() }))
    .check(z.minLength(1, 'needs at least 1 point')),
  indicated_C: temperatureC(),
});
const output = z.strictObject({
  correction_K: z.number(),
  corrected_C: z.number(),
  /** How far outside the points it lies; 0 inside. There the nearest point's correction is held. */
  outside_K: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;
type Point = Input['points'][number];

/** A reading with the corrections of its sensor's calibration, point by point. */
export const sensorCorrection = defineCalculation<Input, Output>({
  name: 'sensor-correction',
  title: 'Correction of a sensor',
  group: 'Heat and glass',
  source: 'Straight line between the points of a calibration (common practice, no source)',
  formula: 'correction = c₁ + (t − t₁) (c₂ − c₁) / (t₂ − t₁); corrected = t + correction',
  validity:
    'Between the points. Outside them the nearest correction is held and the distance told: nothing is known there.',
  version: 1,
  input,
  output,
  compute({ points, indicated_C }) {
    const [a, b] = around(points, indicated_C);
    const correction_K = between(a, b, indicated_C);
    return {
      correction_K,
      corrected_C: indicated_C + correction_K,
      outside_K: Math.max(0, a.indicated_C - indicated_C, indicated_C - b.indicated_C),
    };
  },
  working({ points, indicated_C }, o) {
    const [a, b] = around(points, indicated_C);
    return [
      given('t', 'as read', indicated_C, '°C'),
      given('c₁', `correction at ${figure(a.indicated_C)} °C`, a.correction_K, 'K'),
      given('c₂', `correction at ${figure(b.indicated_C)} °C`, b.correction_K, 'K'),
      workedOut(
        'c',
        o.outside_K > 0 ? 'correction, held: outside the points' : 'correction',
        o.correction_K,
        'K',
        a === b || o.outside_K > 0
          ? 'that of the nearest point'
          : `${figure(a.correction_K)} + (${figure(indicated_C)} − ${figure(a.indicated_C)}) · (${figure(b.correction_K)} − ${figure(a.correction_K)}) / (${figure(b.indicated_C)} − ${figure(a.indicated_C)})`,
      ),
      workedOut('t′', 'corrected', o.corrected_C, '°C', `${figure(indicated_C)} + ${figure(o.correction_K)}`),
    ];
  },
});

/** The points on both sides; at an end, and with one point alone, the same one twice. */
function around(points: readonly Point[], indicated_C: number): readonly [Point, Point] {
  const sorted = [...points].sort((a, b) => a.indicated_C - b.indicated_C);
  const same = sorted.findIndex((p, i) => i > 0 && p.indicated_C === sorted[i - 1]!.indicated_C);
  if (same > 0) throw new RefusedInput('points', `has two points at ${sorted[same]!.indicated_C} °C`);
  const above = sorted.findIndex((p) => p.indicated_C >= indicated_C);
  if (above === 0) return [sorted[0]!, sorted[0]!];
  if (above < 0) return [sorted.at(-1)!, sorted.at(-1)!];
  return [sorted[above - 1]!, sorted[above]!];
}

function between(a: Point, b: Point, indicated_C: number): number {
  if (a === b) return a.correction_K;
  const share = (indicated_C - a.indicated_C) / (b.indicated_C - a.indicated_C);
  return a.correction_K * (1 - share) + b.correction_K * share;
}
