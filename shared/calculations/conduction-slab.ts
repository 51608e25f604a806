import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { notNegative } from './fields.ts';
import { slabRoot, slabSeries, slabWeight } from './numeric/slab-series.ts';

/** Shorter times would take thousands of terms; the slab is still untouched but for a thin skin. */
const leastFourier = 1e-5;

const input = z.strictObject({
  /** Left out or null where the surface is held at its temperature: an infinite Biot number. */
  biot: z.optional(z.nullable(notNegative('must not be negative: h L / k'))),
  fourier: notNegative('must not be negative: κ t / L²'),
  position: z.number().check(z.gte(0, 'must be at least 0: the centre'), z.lte(1, 'must be at most 1: the surface')),
});
const output = z.strictObject({ theta: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** How much of the first temperature difference is left inside a slab after a sudden change at its faces. */
export const conductionSlab = defineCalculation<Input, Output>({
  name: 'conduction-slab',
  title: 'Temperature in a slab after a change outside',
  group: 'Heat and glass',
  source: 'H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), secs. 3.3 and 3.11',
  formula:
    'θ = Σ C_n exp(−z_n² Fo) cos(z_n x/L), z_n tan z_n = Bi, C_n = 4 sin z_n / (2 z_n + sin 2z_n); θ = (T − T_outside)/(T_start − T_outside)',
  validity:
    'Slab of half-thickness L, evenly warm at first, both faces alike, constant properties; Bi = hL/k, Fo = κt/L². Fo 0, or 1e-5 and more.',
  version: 1,
  input,
  output,
  compute(i) {
    if (i.fourier === 0) return { theta: 1 };
    if (i.fourier < leastFourier) {
      throw new RefusedInput('fourier', `must be 0, or at least ${leastFourier}`);
    }
    return { theta: slabSeries(i.biot ?? null, i.fourier, i.position).theta };
  },
  working(i, o) {
    const lines = [
      given('Bi', 'Biot number', i.biot ?? 'fixed surface temperature', '–'),
      given('Fo', 'Fourier number', i.fourier, '–'),
      given('x/L', 'position, 0 centre to 1 surface', i.position, '–'),
    ];
    if (i.fourier === 0)
      return [...lines, workedOut('θ', 'part of the difference left', o.theta, '–', '1 at the start')];
    const { terms } = slabSeries(i.biot ?? null, i.fourier, i.position);
    const first = slabRoot(i.biot ?? null, 0);
    const weight = slabWeight(first);
    return [
      ...lines,
      workedOut(
        'z_0',
        'first root',
        first,
        '–',
        i.biot == null ? 'π/2' : `z tan z = ${figure(i.biot)}`,
        'Carslaw and Jaeger',
      ),
      workedOut(
        'C_0',
        'first weight',
        weight,
        '–',
        first === 0 ? '1' : `4 sin ${figure(first)} / (2 · ${figure(first)} + sin(2 · ${figure(first)}))`,
      ),
      workedOut(
        'term 0',
        'first term alone, enough for Fo above 0.2',
        weight * Math.exp(-first * first * i.fourier) * Math.cos(first * i.position),
        '–',
        `${figure(weight)} · exp(−${figure(first)}² · ${figure(i.fourier)}) · cos(${figure(first)} · ${figure(i.position)})`,
      ),
      workedOut('θ', 'part of the difference left', o.theta, '–', `sum of ${terms} terms`, 'Carslaw and Jaeger'),
    ];
  },
});
