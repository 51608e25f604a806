import { describe, expect, test } from 'vitest';
import { runCalculation } from '../../shared/calculations/calculation.ts';
import { calculationNamed } from '../../shared/calculations/registry.ts';
import { derivedFigures } from '../../shared/plan/derived-figures.ts';
import { evaluateDesign } from '../../shared/plan/evaluate-design.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { DerivedFigure, Design } from '../../shared/plan/schema.ts';
import { otherDesign } from './designs.ts';

function figuresFor(design: unknown): Map<string, DerivedFigure> {
  const outcome = derivedFigures(design);
  if ('error' in outcome) throw new Error(`${outcome.error.path} ${outcome.error.message}`);
  return new Map(outcome.figures.map((f) => [f.id, f]));
}

/** Derived figures of the practice blank: our own computation, said in advance; figure, value, decimals said. */
const ownFigures: readonly (readonly [string, number, number])[] = [
  ['gravity', 9.790179, 6],
  ['hot-radius-of-curvature', 10.25825, 5],
  ['spin-rate', 9.32889, 5],
  ['spin-rate-low', 9.3198, 5],
  ['spin-rate-high', 9.33802, 5],
  ['spin-period', 6.43163, 5],
  ['radius-change', 2.2, 2],
  ['focal-length', 5.12, 3],
  ['sag', 125, 1],
  ['tub-inner-diameter', 3217.36, 2],
  ['tub-hot-diameter', 3225.7, 2],
  ['core-count', 253, 0],
  ['cut-core-count', 60, 0],
  ['rib-fraction', 0.12889, 5],
  ['core-height-least', 227, 2],
  ['core-height-greatest', 333, 2],
  ['core-height-count', 27, 0],
  ['solid-volume', 2.75455, 5],
  ['core-volume', 1.95216, 5],
  ['glass-volume', 0.80238, 5],
  ['glass-mass', 1789.3, 1],
  ['hollow-fraction', 0.7087, 4],
  ['spacers-mass', 39.9, 1],
  ['blank-mass', 1749.4, 1],
  ['mass-to-load', 1775.7, 1],
  ['mass-per-mm-of-face', 17.93, 2],
  ['mass-for-half-mm-of-gap', 25.9, 1],
  ['cores-mass', 878, 0],
  ['glass-head', 405, 1],
  ['band-pressure', 8.842, 3],
  ['band-load-at-foot', 14.22, 2],
  ['band-load', 2.88, 3],
  ['band-travel', 24.9, 1],
  ['viscosity-at-peak', 3.571, 3],
  ['gap-flow', 253.5, 1],
  ['fill-time', 1.31, 2],
  ['uplift-least', 96.7, 1],
  ['uplift-greatest', 141.8, 1],
  ['anneal-rate-permitted', 0.239, 3],
  ['anneal-difference-permitted', 2.27, 2],
  ['anneal-rate', 0.15, 2],
  ['anneal-difference', 1.42, 2],
  ['stress-centre', 0.125, 3],
  ['stress-surface', -0.251, 3],
  ['retardation', 5.0, 1],
  ['cool-rate-permitted', 0.419, 3],
  ['cool-rate', 0.35, 2],
  ['cool-stress', 0.585, 3],
  ['cool-difference', 3.32, 2],
  ['time-constant', 7.7, 1],
  ['strain-point', 516.9, 1],
  ['anneal-days', 29.1, 1],
  ['cool-down-days', 56.2, 1],
  ['days-to-opening', 85.2, 1],
  ['permissible-unbalance', 154.8, 1],
  ['lift-mass', 3151, 0],
  ['pad-load', 1.285, 3],
  ['pad-pressure', 73, 0],
];

describe('derived figures of the practice blank', () => {
  const figures = figuresFor(practiceDesign);

  test.each(ownFigures)('%s is %d', (id, value, decimals) => {
    expect(figures.get(id)!.value.toFixed(decimals)).toBe(value.toFixed(decimals));
  });

  /** Derived: core heights by distance; distance, how many, height, all in mm. */
  test('core heights by distance', () => {
    const said =
      '0.0: 1, 227.00 · 180.0: 6, 228.58 · 311.8: 6, 231.75 · 360.0: 6, 233.33 · 476.2: 12, 238.07 · 540.0: 6, 241.24 · ' +
      '623.5: 6, 245.98 · 649.0: 12, 247.57 · 720.0: 6, 252.31 · 784.6: 12, 257.06 · 824.9: 12, 260.22 · ' +
      '900.0: 6, 266.55 · 935.3: 6, 269.71 · 952.5: 12, 271.30 · 1002.2: 12, 276.04 · 1080.0: 6, 283.95 · ' +
      '1094.9: 12, 285.54 · 1124.1: 12, 288.70 · 1180.3: 12, 295.03 · 1247.1: 6, 302.94 · 1260.0: 18, 304.52 · ' +
      '1298.0: 12, 309.27 · 1359.0: 12, 317.18 · 1405.8: 12, 323.50 · 1428.7: 12, 326.67 · 1440.0: 6, 328.25 · ' +
      '1473.4: 12, 333.00';
    const byDistance = new Map<string, number[]>();
    for (const core of evaluateDesign(practiceDesign).wholeCores) {
      const key = core.distance_mm.toFixed(1);
      byDistance.set(key, [...(byDistance.get(key) ?? []), core.height_mm]);
    }
    const found = [...byDistance]
      .sort(([a], [b]) => Number(a) - Number(b))
      .map(([distance, heights]) => `${distance}: ${heights.length}, ${heights[0]!.toFixed(2)}`);
    expect(found.join(' · ')).toBe(said);
  });
});

describe('against the world outside', () => {
  const figures = figuresFor(practiceDesign);

  test('strain point of borosilicate 3.3', () => {
    // Public data sheets of borosilicate 3.3 (ISO 3585): strain point about 518 °C; from memory.
    expect(Math.abs(figures.get('strain-point')!.value - 518)).toBeLessThan(5);
  });

  test('gravity within the range of sea level and the height', () => {
    // NIMA TR8350.2: normal gravity of WGS 84 is 9.7803253359 m/s² at the equator, 9.8321849379 at the poles.
    const { value } = figures.get('gravity')!;
    expect(value).toBeGreaterThan(9.7803253359);
    expect(value).toBeLessThan(9.8321849379);
  });

  test('permissible unbalance by the rule of thumb of the standard', () => {
    // ISO 21940-11:2016, e_per = 9549 G / n in g·mm/kg; from memory.
    const rate = figures.get('spin-rate')!.value;
    const expected = (((9549 * 6.3) / rate) * practiceDesign.rotating_mass_kg) / 1e6;
    expect(figures.get('permissible-unbalance')!.value).toBeCloseTo(expected, 1);
  });
});

describe.each([
  { name: 'practice blank', design: practiceDesign },
  { name: 'another design', design: otherDesign },
])('derivations of the $name', ({ design }) => {
  test('give the figure again', () => {
    for (const { id, value, derivation } of figuresFor(design).values()) {
      if (!derivation) continue;
      const outcome = runCalculation(calculationNamed(derivation.calculation)!, derivation.input);
      if ('error' in outcome) throw new Error(`${id}: ${outcome.error.path} ${outcome.error.message}`);
      const raw = (outcome.result as Record<string, number>)[derivation.output]!;
      expect(raw * (derivation.factor ?? 1) + (derivation.addend ?? 0), id).toBeCloseTo(value, 9);
    }
  });
});

describe('impossible designs name the field that is to blame', () => {
  const cases: [keyof Design, unknown, RegExp][] = [
    ['blank_diameter_mm', -3200, /greater than 0/],
    ['blank_diameter_mm', Number.NaN, /number/],
    ['radius_of_curvature_m', 0, /greater than 0/],
    ['radius_tolerance_m', 20, /less than/],
    ['centre_thickness_mm', 50, /no height for a core/],
    ['gap_mm', 180, /less than the pitch/],
    ['gap_mm', 0, /greater than 0/],
    ['pitch_mm', 20, /cores/],
    ['pitch_mm', 4000, /no whole core/],
    ['edge_margin_mm', 1600, /half the diameter/],
    ['latitude_deg', 91, /no place on Earth/],
    ['glass_expansion_per_K', 1, /no solid/],
    ['glass_expansion_per_K', -1e-6, /greater than 0/],
    ['set_temperature_C', -300, /between 300 and 640/],
    ['poisson', 0.5, /0.5/],
    ['modulus_GPa', 0, /greater than 0/],
    ['permanent_stress_MPa', 0, /greater than 0/],
    ['core_shrinkage', 0.2, /0.05/],
    ['core_density_kg_m3', 3000, /less than the density/],
    ['spacer_diameter_mm', 170, /across flats/],
    ['rotating_mass_kg', 0, /greater than 0/],
  ];
  test.each(cases)('%s = %s', (key, value, message) => {
    const outcome = derivedFigures({ ...practiceDesign, [key]: value });
    expect(outcome).toMatchObject({ error: { path: key } });
    expect('error' in outcome && outcome.error.message).toMatch(message);
  });

  test('a field that is missing', () => {
    const { pitch_mm: _, ...rest } = practiceDesign;
    expect(derivedFigures(rest)).toEqual({ error: { path: 'pitch_mm', message: 'is missing' } });
  });

  test('any single field, made wild, gives figures or a field of the design', () => {
    const keys = Object.keys(practiceDesign) as (keyof Design)[];
    const wild = [0, -1, 1e-9, 1e-3, 1, 7, 1e3, 1e6, 1e300, -1e300, null, 'x'];
    for (const key of keys) {
      for (const value of wild) {
        const outcome = derivedFigures({ ...practiceDesign, [key]: value });
        if ('error' in outcome) {
          expect(keys, `${key} = ${value}: ${outcome.error.message}`).toContain(outcome.error.path);
        } else {
          const values = outcome.figures.map((f) => f.value);
          expect(values.every(Number.isFinite), `${key} = ${value}`).toBe(true);
        }
      }
    }
  });
});
