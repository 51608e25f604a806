import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { finite, temperatureC } from './fields.ts';

const point = z.strictObject({ temperature_C: temperatureC(), log10_Pa_s: finite() });
const input = z.strictObject({
  points: z.array(point).check(z.minLength(3, 'needs exactly 3 points'), z.maxLength(3, 'takes exactly 3 points')),
  temperature_C: z.optional(temperatureC()),
  log10_Pa_s: z.optional(finite()),
});
const output = z.strictObject({
  A: z.number(),
  B: z.number(),
  T0_C: z.number(),
  /** True where the answer lies outside the three points. */
  extrapolated: z.boolean(),
  temperature_C: z.optional(z.number()),
  log10_Pa_s: z.optional(z.number()),
});
type Point = z.infer<typeof point>;
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

export interface ViscosityCurve {
  A: number;
  B: number;
  T0_C: number;
}

/**
 * Constants of log10 η = A + B/(T − T0) through three points, exactly; the order of the points does not matter.
 * @throws {RefusedInput} where the points share a temperature, lie on a line or do not bend as a glass does.
 */
export function viscosityCurve(points: readonly Point[]): ViscosityCurve {
  const [cold, middle, hot] = [...points].sort((a, b) => a.temperature_C - b.temperature_C) as [Point, Point, Point];
  // Measured from the middle point, so that digits do not cancel.
  const a = cold.temperature_C - middle.temperature_C;
  const c = hot.temperature_C - middle.temperature_C;
  const la = cold.log10_Pa_s - middle.log10_Pa_s;
  const lc = hot.log10_Pa_s - middle.log10_Pa_s;
  if (a === 0 || c === 0) throw new RefusedInput('points', 'must have three different temperatures');
  if (la <= 0 || lc >= 0) throw new RefusedInput('points', 'must fall in viscosity as the temperature rises');
  const bend = la * c - a * lc;
  const size = Math.abs(la * c) + Math.abs(a * lc);
  if (Math.abs(bend) <= 1e-9 * size) throw new RefusedInput('points', 'lie on a straight line: the curve has no T0');
  if (bend < 0) throw new RefusedInput('points', 'bend the wrong way: a glass stiffens faster the colder it gets');
  const offset = (a * c * (la - lc)) / bend;
  const B = (la * (a - offset) * offset) / a;
  const curve = { A: middle.log10_Pa_s + B / offset, B, T0_C: middle.temperature_C + offset };
  if (!Object.values(curve).every(Number.isFinite)) {
    throw new RefusedInput('points', 'lie so far apart that the curve cannot be computed');
  }
  return curve;
}

/** log10 of the viscosity in Pa·s at a temperature. @throws {RefusedInput} below T0 + 1 K. */
export function log10ViscosityAt({ A, B, T0_C }: ViscosityCurve, temperature_C: number): number {
  if (temperature_C < T0_C + 1) {
    throw new RefusedInput('temperature_C', `is below T0 + 1 K (${figure(T0_C + 1)} °C): the formula ends there`);
  }
  return A + B / (temperature_C - T0_C);
}

/** Temperature in °C at which the glass has a viscosity. @throws {RefusedInput} where the curve never has it. */
export function temperatureAtLog10Viscosity({ A, B, T0_C }: ViscosityCurve, log10_Pa_s: number): number {
  if (log10_Pa_s <= A) {
    throw new RefusedInput('log10_Pa_s', `is at or below A (${figure(A)}): no temperature makes the glass so thin`);
  }
  const temperature = T0_C + B / (log10_Pa_s - A);
  if (temperature < T0_C + 1 || temperature < -273.15) {
    const least = Math.max(T0_C + 1, -273.15);
    throw new RefusedInput('log10_Pa_s', `is reached only below ${figure(least)} °C: the formula ends there`);
  }
  return temperature;
}

function outside(value: number, others: number[]): boolean {
  return value < Math.min(...others) || value > Math.max(...others);
}

/** Viscosity of a glass from three known points, or the temperature that gives a viscosity. */
export const viscosity = defineCalculation<Input, Output>({
  name: 'viscosity',
  title: 'Viscosity of the glass',
  group: 'Heat and glass',
  source: 'G. S. Fulcher, J. Am. Ceram. Soc. 8 (1925) 339 (Vogel–Fulcher–Tammann equation); points as in ISO 7884-1',
  formula: 'log10 η = A + B / (T − T0), A, B and T0 exactly through the three points',
  validity:
    'Between the three points; outside them the answer is marked as extrapolated. Below about 10^13 Pa·s the glass is not in equilibrium and the curve is only a guide.',
  version: 1,
  input,
  output,
  compute(i) {
    if ((i.temperature_C === undefined) === (i.log10_Pa_s === undefined)) {
      throw new RefusedInput('', 'needs exactly one of temperature_C and log10_Pa_s');
    }
    const curve = viscosityCurve(i.points);
    if (i.temperature_C !== undefined) {
      const extrapolated = outside(
        i.temperature_C,
        i.points.map((p) => p.temperature_C),
      );
      return { ...curve, extrapolated, log10_Pa_s: log10ViscosityAt(curve, i.temperature_C) };
    }
    const wanted = i.log10_Pa_s as number;
    const extrapolated = outside(
      wanted,
      i.points.map((p) => p.log10_Pa_s),
    );
    return { ...curve, extrapolated, temperature_C: temperatureAtLog10Viscosity(curve, wanted) };
  },
  working(i, o) {
    const [one, two, three] = i.points as [Point, Point, Point];
    const givenPoints = i.points.flatMap((p, n) => [
      given(`T${n + 1}`, `temperature of point ${n + 1}`, p.temperature_C, '°C'),
      given(`l${n + 1}`, `log10 of the viscosity at point ${n + 1}`, p.log10_Pa_s, 'log10 Pa·s'),
    ]);
    const [t1, t2, t3] = i.points.map((p) => figure(p.temperature_C)) as [string, string, string];
    const [l1, l2, l3] = i.points.map((p) => figure(p.log10_Pa_s)) as [string, string, string];
    const r = (one.log10_Pa_s - two.log10_Pa_s) / (three.log10_Pa_s - two.log10_Pa_s);
    const q = (two.temperature_C - one.temperature_C) / (two.temperature_C - three.temperature_C);
    const constants = [
      workedOut('r', 'ratio of the steps in log10 viscosity', r, '–', `(${l1} − ${l2}) / (${l3} − ${l2})`),
      workedOut('q', 'ratio of the steps in temperature', q, '–', `(${t2} − ${t1}) / (${t2} − ${t3})`),
      workedOut('T0', 'constant', o.T0_C, '°C', `(r · ${t1} − q · ${t3}) / (r − q)`),
      workedOut('B', 'constant', o.B, 'K', `(${l1} − ${l2}) / (1/(${t1} − T0) − 1/(${t2} − T0))`),
      workedOut('A', 'constant', o.A, 'log10 Pa·s', `${l1} − B / (${t1} − T0)`),
    ];
    const where = o.extrapolated ? ', extrapolated: outside the three points' : '';
    const answer =
      i.temperature_C !== undefined
        ? [
            given('T', 'temperature asked for', i.temperature_C, '°C'),
            workedOut(
              'log10 η',
              `log10 of the viscosity${where}`,
              o.log10_Pa_s ?? null,
              'log10 Pa·s',
              `${figure(o.A)} + ${figure(o.B)} / (${figure(i.temperature_C)} − ${figure(o.T0_C)})`,
              'Vogel–Fulcher–Tammann equation',
            ),
          ]
        : [
            given('log10 η', 'log10 of the viscosity asked for', i.log10_Pa_s ?? null, 'log10 Pa·s'),
            workedOut(
              'T',
              `temperature${where}`,
              o.temperature_C ?? null,
              '°C',
              `${figure(o.T0_C)} + ${figure(o.B)} / (${figure(i.log10_Pa_s ?? 0)} − ${figure(o.A)})`,
              'Vogel–Fulcher–Tammann equation',
            ),
          ];
    return [...givenPoints, ...constants, ...answer];
  },
});
