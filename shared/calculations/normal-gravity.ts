import * as z from 'zod/mini';
import { defineCalculation, figure, given, workedOut } from './calculation.ts';

const input = z.strictObject({
  latitude_deg: z
    .number()
    .check(z.gte(-90, 'is below -90°: no place on Earth'), z.lte(90, 'is above 90°: no place on Earth')),
  height_m: z.optional(
    z
      .number()
      .check(
        z.gte(-12_000, 'is below -12000 m: deeper than any place on Earth'),
        z.lte(100_000, 'is above 100000 m: the formula in h² no longer holds'),
      ),
  ),
});
const output = z.strictObject({ g_m_s2: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Defining and derived constants of the WGS 84 ellipsoid, NIMA TR8350.2 and NGA.STND.0036, chapter 3. */
const WGS84 = {
  a_m: 6_378_137,
  flattening: 1 / 298.257223563,
  equator_m_s2: 9.7803253359,
  k: 0.00193185265241,
  eccentricity_squared: 0.00669437999014,
  m: 0.00344978650684,
} as const;

/** Square of the sine of the latitude. */
const sineSquared = (latitude_deg: number): number => Math.sin((latitude_deg * Math.PI) / 180) ** 2;

/** Normal gravity on the ellipsoid, m/s²: closed formula of Somigliana. */
function onEllipsoid(latitude_deg: number): number {
  const s = sineSquared(latitude_deg);
  return (WGS84.equator_m_s2 * (1 + WGS84.k * s)) / Math.sqrt(1 - WGS84.eccentricity_squared * s);
}

/** Normal gravity, m/s², at a latitude in degrees and a height above the ellipsoid in m. */
export function normalGravityAt(latitude_deg: number, height_m: number): number {
  const h = height_m / WGS84.a_m;
  const { flattening: f, m } = WGS84;
  const change = -2 * h * (1 + f + m - 2 * f * sineSquared(latitude_deg)) + 3 * h * h;
  return onEllipsoid(latitude_deg) * (1 + change);
}

/** Gravity of the hall where nobody has measured it. */
export const normalGravity = defineCalculation<Input, Output>({
  name: 'normal-gravity',
  title: 'Normal gravity of a place',
  group: 'Shape and spin',
  source: 'NIMA TR8350.2 third edition (WGS 84), equations 4-1 and 4-3; now NGA.STND.0036, chapter 4',
  formula: 'γ0 = γ_e (1 + k sin²φ) / √(1 − e² sin²φ); g = γ0 [1 − 2h/a (1 + f + m − 2f sin²φ) + 3h²/a²]',
  validity: 'A smooth Earth: local anomalies reach 1e-3 m/s², so a measured g is better. Height to second order.',
  version: 1,
  input,
  output,
  compute(i) {
    return { g_m_s2: normalGravityAt(i.latitude_deg, i.height_m ?? 0) };
  },
  working(i, o) {
    const height = i.height_m ?? 0;
    const s = sineSquared(i.latitude_deg);
    const gamma0 = onEllipsoid(i.latitude_deg);
    const lift = 1 + WGS84.flattening + WGS84.m - 2 * WGS84.flattening * s;
    return [
      given('φ', 'latitude', i.latitude_deg, '°'),
      given('h', 'height', height, 'm', i.height_m === undefined ? 'not given, taken as sea level' : 'given'),
      given('γ_e', 'normal gravity at the equator', WGS84.equator_m_s2, 'm/s²', 'WGS 84'),
      given('k', "constant of Somigliana's formula", WGS84.k, '', 'WGS 84'),
      given('e²', 'first eccentricity squared', WGS84.eccentricity_squared, '', 'WGS 84'),
      workedOut('sin²φ', 'square of the sine of the latitude', s, '', `sin²(${figure(i.latitude_deg)}°)`),
      workedOut(
        'γ0',
        'normal gravity at sea level',
        gamma0,
        'm/s²',
        `${WGS84.equator_m_s2} · (1 + ${WGS84.k} · ${figure(s, 9)}) / √(1 − ${WGS84.eccentricity_squared} · ${figure(s, 9)})`,
        'NIMA TR8350.2 equation 4-1',
      ),
      workedOut(
        'c',
        '1 + f + m − 2f sin²φ',
        lift,
        '',
        `1 + 1/298.257223563 + ${WGS84.m} − 2/298.257223563 · ${figure(s, 9)}`,
        'NIMA TR8350.2 equation 4-3',
      ),
      workedOut(
        'g',
        'normal gravity at the height',
        o.g_m_s2,
        'm/s²',
        `${figure(gamma0, 10)} · (1 − 2 · ${figure(height)}/${WGS84.a_m} · ${figure(lift, 9)} + 3 · ${figure(height)}²/${WGS84.a_m}²)`,
        'NIMA TR8350.2 equation 4-3',
      ),
      given(
        'δg',
        'local anomalies reach this much: a measured g is better',
        1e-3,
        'm/s²',
        'common practice, no source',
      ),
    ];
  },
});
