import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { temperatureC } from './fields.ts';
import { type ThermocoupleType, thermocoupleTypes } from './thermocouple-coefficients.ts';

/** Over a range of temperature: a constant, plus a share of what lies above `above_C` (of |t| where that is 0). */
interface Part {
  readonly from_C: number;
  readonly to_C: number;
  readonly constant_K: number;
  readonly share: number;
  readonly above_C: number;
}

const flat = (from_C: number, to_C: number, constant_K: number): Part => ({
  from_C,
  to_C,
  constant_K,
  share: 0,
  above_C: 0,
});
const ofAmount = (from_C: number, to_C: number, share: number): Part => ({
  from_C,
  to_C,
  constant_K: 0,
  share,
  above_C: 0,
});

type ByClass = Readonly<Partial<Record<1 | 2 | 3, readonly Part[]>>>;

const platinum: ByClass = {
  1: [flat(0, 1100, 1), { from_C: 1100, to_C: 1600, constant_K: 1, share: 0.003, above_C: 1100 }],
  2: [flat(0, 600, 1.5), ofAmount(600, 1600, 0.0025)],
};
const nickel: ByClass = {
  1: [flat(-40, 375, 1.5), ofAmount(375, 1000, 0.004)],
  2: [flat(-40, 333, 2.5), ofAmount(333, 1200, 0.0075)],
  3: [ofAmount(-200, -167, 0.015), flat(-167, 40, 2.5)],
};

/** IEC 60584-1:2013, tolerances of new wire, each type and class over its own range. */
const tolerances: Readonly<Record<ThermocoupleType, ByClass>> = {
  S: platinum,
  R: platinum,
  B: { 2: [ofAmount(600, 1700, 0.0025)], 3: [flat(600, 800, 4), ofAmount(800, 1700, 0.005)] },
  K: nickel,
  N: nickel,
  E: {
    1: [flat(-40, 375, 1.5), ofAmount(375, 800, 0.004)],
    2: [flat(-40, 333, 2.5), ofAmount(333, 900, 0.0075)],
    3: [ofAmount(-200, -167, 0.015), flat(-167, 40, 2.5)],
  },
  J: {
    1: [flat(-40, 375, 1.5), ofAmount(375, 750, 0.004)],
    2: [flat(-40, 333, 2.5), ofAmount(333, 750, 0.0075)],
  },
  T: {
    1: [flat(-40, 125, 0.5), ofAmount(125, 350, 0.004)],
    2: [flat(-40, 133, 1), ofAmount(133, 350, 0.0075)],
    3: [ofAmount(-200, -67, 0.015), flat(-67, 40, 1)],
  },
};

const input = z.strictObject({
  type: z.enum(thermocoupleTypes),
  class: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  temperature_C: temperatureC(),
});
const output = z.strictObject({ tolerance_K: z.number(), standard_uncertainty_K: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** How far the reading of a new thermocouple may lie from the temperature of its junction. */
export const thermocoupleTolerance = defineCalculation<Input, Output>({
  name: 'thermocouple-tolerance',
  title: 'Tolerance of a thermocouple',
  group: 'Heat and glass',
  source: 'IEC 60584-1:2013, tolerance classes (values as reprinted beside JIS C 1602); GUM 4.3.7 for a width',
  formula:
    'tolerance = constant, or share · |t|, or 1 + 0.003 (t − 1100), by type, class and range; u = tolerance / √3',
  validity:
    'New wire as delivered, reference junction at 0 °C. Use at heat drifts it further. Pairs of one melt of wire go together, so that their difference is known better.',
  version: 1,
  input,
  output,
  compute(i) {
    const { constant_K, share, above_C } = partOf(i);
    const tolerance_K = constant_K + share * Math.abs(i.temperature_C - above_C);
    return { tolerance_K, standard_uncertainty_K: tolerance_K / Math.sqrt(3) };
  },
  working(i, o) {
    const { constant_K, share, above_C, from_C, to_C } = partOf(i);
    const formula =
      share === 0
        ? `${figure(constant_K)}, constant from ${from_C} to ${to_C} °C`
        : `${constant_K === 0 ? '' : `${figure(constant_K)} + `}${share} · |${figure(i.temperature_C)}${above_C === 0 ? '' : ` − ${above_C}`}|`;
    return [
      given('t', 'temperature', i.temperature_C, '°C'),
      workedOut(
        'Δ',
        `tolerance of type ${i.type}, class ${i.class}`,
        o.tolerance_K,
        'K',
        formula,
        'IEC 60584-1:2013, tolerance classes',
      ),
      workedOut(
        'u',
        'standard uncertainty',
        o.standard_uncertainty_K,
        'K',
        `${figure(o.tolerance_K)} / √3`,
        'GUM 4.3.7: equally likely within the tolerance',
      ),
    ];
  },
});

function partOf({ type, class: wanted, temperature_C }: Input): Part {
  const parts = tolerances[type][wanted];
  if (!parts) throw new RefusedInput('class', `has no tolerance for type ${type}`);
  const found = parts.find((p) => temperature_C >= p.from_C && temperature_C <= p.to_C);
  if (!found)
    throw new RefusedInput(
      'temperature_C',
      `is outside the range of type ${type}, class ${wanted}: ${parts[0]!.from_C} to ${parts.at(-1)!.to_C} °C`,
    );
  return found;
}
