import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { finite, temperatureC } from './fields.ts';
import {
  type ReferenceSegment,
  referenceFunctions,
  type ThermocoupleType,
  thermocoupleTypes,
} from './thermocouple-coefficients.ts';

const input = z.strictObject({
  type: z.enum(thermocoupleTypes),
  emf_mV: z.optional(finite()),
  temperature_C: z.optional(temperatureC()),
  reference_junction_C: z._default(temperatureC(), 0),
});
const output = z.strictObject({
  temperature_C: z.optional(z.number()),
  emf_mV: z.optional(z.number()),
  /** Slope of the reference function at the measuring junction. */
  sensitivity_uV_K: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Half the last digit of the published tables: an emf rounded as they are is still taken at the ends of a range. */
const tableRounding_mV = 0.0005;
/** Type B has the same emf at two temperatures below about 42 °C; the published inverse starts here. */
const leastInverse_C: Partial<Record<ThermocoupleType, number>> = { B: 250 };

const rangeOf = (type: ThermocoupleType): { from_C: number; to_C: number } => {
  const segments = referenceFunctions[type];
  return { from_C: segments[0]?.from_C ?? 0, to_C: segments.at(-1)?.to_C ?? 0 };
};

/** Value in mV and slope in mV/K of one segment, by Horner's rule. */
function evaluate(segment: ReferenceSegment, t: number): { emf_mV: number; slope_mV_K: number } {
  let emf_mV = 0;
  let slope_mV_K = 0;
  for (let n = segment.coefficients.length - 1; n >= 0; n--) {
    slope_mV_K = slope_mV_K * t + emf_mV;
    emf_mV = emf_mV * t + (segment.coefficients[n] as number);
  }
  if (!segment.exponential) return { emf_mV, slope_mV_K };
  const { a0, a1, a2 } = segment.exponential;
  const bump = a0 * Math.exp(a1 * (t - a2) ** 2);
  return { emf_mV: emf_mV + bump, slope_mV_K: slope_mV_K + 2 * a1 * (t - a2) * bump };
}

/** Reference function at a temperature inside the range of the type; the lower segment counts at a join. */
function reference(type: ThermocoupleType, t: number): { emf_mV: number; slope_mV_K: number } {
  const segments = referenceFunctions[type];
  const segment = segments.find((s) => t <= s.to_C) ?? (segments.at(-1) as ReferenceSegment);
  return evaluate(segment, t);
}

function requireInRange(type: ThermocoupleType, t: number, path: string): void {
  const { from_C, to_C } = rangeOf(type);
  if (t < from_C || t > to_C) throw new RefusedInput(path, `must lie within ${from_C} to ${to_C} °C for type ${type}`);
}

/**
 * Temperature in °C whose emf against 0 °C is `emf_mV`, solved on the reference function by halving.
 * @throws {RefusedInput} outside the range in which one emf means one temperature.
 */
function invert(type: ThermocoupleType, emf_mV: number): number {
  const { from_C, to_C } = rangeOf(type);
  let low = leastInverse_C[type] ?? from_C;
  let high = to_C;
  const least = reference(type, low).emf_mV;
  const greatest = reference(type, high).emf_mV;
  if (emf_mV < least - tableRounding_mV || emf_mV > greatest + tableRounding_mV) {
    throw new RefusedInput(
      'emf_mV',
      `with the reference junction comes to ${figure(emf_mV)} mV against 0 °C; type ${type} gives a temperature for ${least.toFixed(3)} to ${greatest.toFixed(3)} mV (${low} to ${high} °C)`,
    );
  }
  if (emf_mV <= least) return low;
  if (emf_mV >= greatest) return high;
  // The functions rise over these ranges: 60 halvings reach the last digit of a number.
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (reference(type, middle).emf_mV < emf_mV) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Temperature from the emf of a thermocouple, or the emf from a temperature. */
export const thermocouple = defineCalculation<Input, Output>({
  name: 'thermocouple',
  title: 'Thermocouple',
  group: 'Heat and glass',
  source: 'NIST Standard Reference Database 60 (ITS-90, NIST Monograph 175); same functions in IEC 60584-1:2013',
  formula:
    'emf = E(t) − E(t_ref), E(t) = Σ c_i tⁱ (type K above 0 °C also a0 exp(a1 (t − a2)²)); the inverse is solved on E(t)',
  validity:
    'B 0 to 1820 °C (from emf: 250 °C and up, since its emf is not single-valued near 21–42 °C), E −270 to 1000, J −210 to 1200, K −270 to 1372, N −270 to 1300, R and S −50 to 1768.1, T −270 to 400. The tolerance of the wire comes on top.',
  version: 1,
  input,
  output,
  compute(i) {
    if ((i.emf_mV === undefined) === (i.temperature_C === undefined)) {
      throw new RefusedInput('', 'needs exactly one of emf_mV and temperature_C');
    }
    requireInRange(i.type, i.reference_junction_C, 'reference_junction_C');
    const referenceEmf = reference(i.type, i.reference_junction_C).emf_mV;
    if (i.temperature_C !== undefined) {
      requireInRange(i.type, i.temperature_C, 'temperature_C');
      const { emf_mV, slope_mV_K } = reference(i.type, i.temperature_C);
      return { emf_mV: emf_mV - referenceEmf, sensitivity_uV_K: 1000 * slope_mV_K };
    }
    const temperature_C = invert(i.type, (i.emf_mV as number) + referenceEmf);
    return { temperature_C, sensitivity_uV_K: 1000 * reference(i.type, temperature_C).slope_mV_K };
  },
  working(i, o) {
    const table = 'NIST SRD 60';
    const referenceEmf = reference(i.type, i.reference_junction_C).emf_mV;
    const lines: WorkingLine[] = [
      given('type', 'thermocouple', i.type, ''),
      given('t_ref', 'reference junction', i.reference_junction_C, '°C'),
      workedOut('E(t_ref)', 'emf of the reference junction against 0 °C', referenceEmf, 'mV', 'Σ c_i t_refⁱ', table),
    ];
    const slope = workedOut('dE/dt', 'sensitivity', o.sensitivity_uV_K, 'µV/K', 'slope of E at t', table);
    if (i.temperature_C !== undefined) {
      const total = reference(i.type, i.temperature_C).emf_mV;
      return [
        ...lines,
        given('t', 'temperature', i.temperature_C, '°C'),
        workedOut('E(t)', 'emf against 0 °C', total, 'mV', 'Σ c_i tⁱ', table),
        workedOut('emf', 'emf', o.emf_mV ?? null, 'mV', `${figure(total)} − ${figure(referenceEmf)}`),
        slope,
      ];
    }
    const measured = i.emf_mV as number;
    return [
      ...lines,
      given('emf', 'as read', measured, 'mV'),
      workedOut(
        'E(t)',
        'emf against 0 °C; emfs are added, never temperatures',
        measured + referenceEmf,
        'mV',
        `${figure(measured)} + ${figure(referenceEmf)}`,
      ),
      workedOut('t', 'temperature', o.temperature_C ?? null, '°C', 'the t at which Σ c_i tⁱ is E(t)', table),
      slope,
    ];
  },
});
