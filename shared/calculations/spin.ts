import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { expansionPerK, notNegative, positive, temperatureC } from './fields.ts';
import { expansionFactor } from './numeric/shape-expansion.ts';

const input = z.strictObject({
  radius_of_curvature_m: positive('must be greater than 0: a radius of curvature'),
  g_m_s2: positive('must be greater than 0: gravity'),
  glass_expansion_per_K: expansionPerK(),
  set_temperature_C: temperatureC(),
  diameter_m: positive('must be greater than 0: a diameter'),
  radius_tolerance_m: z.optional(notNegative('must not be negative: a tolerance')),
});
const output = z.strictObject({
  hot_radius_of_curvature_m: z.number(),
  rotation_rate_rpm: z.number(),
  period_s: z.number(),
  focal_length_m: z.number(),
  sag_m: z.number(),
  rate_low_rpm: z.optional(z.number()),
  rate_high_rpm: z.optional(z.number()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Rotation of the Earth against the stars, rad/s (WGS 84). */
const EARTH_RAD_S = 7.292115e-5;

/** Rate, turns a minute, at which a liquid takes a radius of curvature in m under a gravity in m/s². */
export const rateForRadius = (radius_m: number, g_m_s2: number): number =>
  (Math.sqrt(g_m_s2 / radius_m) * 60) / (2 * Math.PI);

function compute(i: Input): Output {
  const factor = expansionFactor(i.glass_expansion_per_K, i.set_temperature_C, 'set_temperature_C', 'glass');
  const radius = i.radius_of_curvature_m;
  const hot = radius * factor;
  const result: Output = {
    hot_radius_of_curvature_m: hot,
    rotation_rate_rpm: rateForRadius(hot, i.g_m_s2),
    period_s: 2 * Math.PI * Math.sqrt(hot / i.g_m_s2),
    focal_length_m: radius / 2,
    sag_m: ((i.diameter_m / radius) * i.diameter_m) / 8,
  };
  const tolerance = i.radius_tolerance_m;
  if (tolerance === undefined) return result;
  if (tolerance >= radius) throw new RefusedInput('radius_tolerance_m', 'must be less than the radius of curvature');
  return {
    ...result,
    rate_low_rpm: rateForRadius((radius + tolerance) * factor, i.g_m_s2),
    rate_high_rpm: rateForRadius((radius - tolerance) * factor, i.g_m_s2),
  };
}

function toleranceLines(i: Input, o: Output): WorkingLine[] {
  if (i.radius_tolerance_m === undefined || o.rate_low_rpm === undefined || o.rate_high_rpm === undefined) return [];
  const line = (symbol: string, meaning: string, value: number, sign: string): WorkingLine =>
    workedOut(
      symbol,
      meaning,
      value,
      'rpm',
      `√(g / ((${figure(i.radius_of_curvature_m, 9)} ${sign} ${figure(i.radius_tolerance_m!)}) · R_hot/R)) · 60/2π`,
    );
  return [
    given('tol', 'tolerance of the radius of curvature', i.radius_tolerance_m, 'm'),
    line('n_low', 'lowest rate, from R + tol', o.rate_low_rpm, '+'),
    line('n_high', 'highest rate, from R − tol', o.rate_high_rpm, '−'),
  ];
}

/** The rate at which the melt must turn so that the blank, cold, has the wanted radius of curvature. */
export const spin = defineCalculation<Input, Output>({
  name: 'spin',
  title: 'Rotation rate for a radius of curvature',
  group: 'Shape and spin',
  source:
    'H. Lamb, Hydrodynamics, 6th ed. (1932), article 26: z = ω² r² / 2g, so R = g/ω²; reference temperature 20 °C after ISO 1:2022',
  formula: 'R_hot = R (1 + α (T − 20)); n = √(g / R_hot) · 60 / 2π; f = R / 2; sag = D² / 8R',
  validity:
    'Liquid at rest in the turning tub, axis along the local vertical; mean expansion from 20 °C to the set temperature, one set temperature for the whole blank. The rotation of the Earth is neglected.',
  version: 1,
  input,
  output,
  compute,
  working(i, o) {
    const omega = (o.rotation_rate_rpm * 2 * Math.PI) / 60;
    return [
      given('R', 'wanted radius of curvature at 20 °C', i.radius_of_curvature_m, 'm'),
      given('g', 'gravity', i.g_m_s2, 'm/s²'),
      given('α', 'mean expansion of the glass, 20 °C to set', i.glass_expansion_per_K, '1/K'),
      given('T', 'set temperature', i.set_temperature_C, '°C'),
      given('D', 'diameter', i.diameter_m, 'm'),
      workedOut(
        'R_hot',
        'radius of curvature at the set temperature',
        o.hot_radius_of_curvature_m,
        'm',
        `${figure(i.radius_of_curvature_m, 9)} · (1 + ${i.glass_expansion_per_K} · (${figure(i.set_temperature_C)} − 20))`,
        'ISO 1',
      ),
      workedOut(
        'n',
        'rotation rate',
        o.rotation_rate_rpm,
        'rpm',
        `√(${figure(i.g_m_s2, 9)} / ${figure(o.hot_radius_of_curvature_m, 9)}) · 60 / 2π`,
        'Lamb, article 26',
      ),
      workedOut('P', 'period of a turn', o.period_s, 's', `60 / ${figure(o.rotation_rate_rpm, 9)}`),
      workedOut('f', 'focal length at 20 °C', o.focal_length_m, 'm', `${figure(i.radius_of_curvature_m, 9)} / 2`),
      workedOut(
        'sag',
        'depth of the front surface at 20 °C',
        o.sag_m,
        'm',
        `${figure(i.diameter_m, 9)}² / (8 · ${figure(i.radius_of_curvature_m, 9)})`,
      ),
      ...toleranceLines(i, o),
      workedOut(
        '2Ω/ω',
        'neglected rotation of the Earth, relative, at a pole; elsewhere times sin φ',
        (2 * EARTH_RAD_S) / omega,
        '',
        `2 · ${EARTH_RAD_S} / ${figure(omega)}`,
        'WGS 84',
      ),
    ];
  },
});
