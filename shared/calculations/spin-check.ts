import * as z from 'zod/mini';
import { defineCalculation, figure, given, workedOut } from './calculation.ts';
import { expansionPerK, positive, temperatureC } from './fields.ts';
import { expansionFactor } from './numeric/shape-expansion.ts';

const input = z.strictObject({
  rotation_rate_rpm: positive('must be greater than 0: a rate'),
  g_m_s2: positive('must be greater than 0: gravity'),
  glass_expansion_per_K: expansionPerK(),
  set_temperature_C: temperatureC(),
});
const output = z.strictObject({
  hot_radius_of_curvature_m: z.number(),
  radius_of_curvature_m: z.number(),
  focal_length_m: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Radius of curvature, m, that a liquid takes at a rate in turns a minute under a gravity in m/s². */
function radiusAtRate(rate_rpm: number, g_m_s2: number): number {
  const omega = (rate_rpm * 2 * Math.PI) / 60;
  return g_m_s2 / omega / omega;
}

/** What a rate that was held makes of the blank: `spin` turned round. */
export const spinCheck = defineCalculation<Input, Output>({
  name: 'spin-check',
  title: 'Radius of curvature from a rotation rate',
  group: 'Shape and spin',
  source:
    'H. Lamb, Hydrodynamics, 6th ed. (1932), article 26: z = ω² r² / 2g, so R = g/ω²; reference temperature 20 °C after ISO 1:2022',
  formula: 'R_hot = g / ω², ω = 2π n / 60; R = R_hot / (1 + α (T − 20)); f = R / 2',
  validity: 'As for spin: liquid at rest in the turning tub, one set temperature, rotation of the Earth neglected.',
  version: 1,
  input,
  output,
  compute(i) {
    const hot = radiusAtRate(i.rotation_rate_rpm, i.g_m_s2);
    const radius = hot / expansionFactor(i.glass_expansion_per_K, i.set_temperature_C, 'set_temperature_C', 'glass');
    return { hot_radius_of_curvature_m: hot, radius_of_curvature_m: radius, focal_length_m: radius / 2 };
  },
  working(i, o) {
    return [
      given('n', 'rotation rate', i.rotation_rate_rpm, 'rpm'),
      given('g', 'gravity', i.g_m_s2, 'm/s²'),
      given('α', 'mean expansion of the glass, 20 °C to set', i.glass_expansion_per_K, '1/K'),
      given('T', 'set temperature', i.set_temperature_C, '°C'),
      workedOut(
        'R_hot',
        'radius of curvature at the set temperature',
        o.hot_radius_of_curvature_m,
        'm',
        `${figure(i.g_m_s2, 9)} / (2π · ${figure(i.rotation_rate_rpm, 9)} / 60)²`,
        'Lamb, article 26',
      ),
      workedOut(
        'R',
        'radius of curvature at 20 °C',
        o.radius_of_curvature_m,
        'm',
        `${figure(o.hot_radius_of_curvature_m, 9)} / (1 + ${i.glass_expansion_per_K} · (${figure(i.set_temperature_C)} − 20))`,
        'ISO 1',
      ),
      workedOut('f', 'focal length at 20 °C', o.focal_length_m, 'm', `${figure(o.radius_of_curvature_m, 9)} / 2`),
    ];
  },
});
