import { RefusedInput } from '../../calculations/calculation.ts';
import { conformity } from '../../calculations/conformity.ts';
import { lengthAt20 } from '../../calculations/length-at-20.ts';
import { type LimitsAt, limitsAt } from '../../plan/lookup.ts';
import type { Characteristic, Plan } from '../../plan/schema.ts';
import type { Body, Typed, Verdict } from '../kinds.ts';
import { judge } from './derived.ts';
import { GUARD_FACTOR } from './derived-value.ts';

export type LengthInput = Parameters<typeof lengthAt20.compute>[0];
export type InstrumentLine = Body<'instrument'>;

/** Of the part and of the scale that it is read with, °C. */
export interface Temperatures {
  readonly part_C: number;
  readonly scale_C: number;
}

/** One reading before it is judged; figures in the units that their names or the characteristic say. */
export interface ReadingInput {
  readonly plan: Plan;
  readonly operation: string;
  readonly characteristic: Characteristic;
  readonly station: string;
  readonly read: number;
  /** Only for a length that is brought to 20 °C. */
  readonly temperatures?: Temperatures | undefined;
  readonly instrument: InstrumentLine | null;
}

/** What the reader is shown, and what is kept. */
export interface Judgement {
  /** Judged: at 20 °C where the characteristic says so. */
  readonly value: number;
  readonly limits: LimitsAt;
  readonly standardUncertainty: number;
  readonly guard: number;
  readonly verdict: Verdict | null;
  /** What brought the length to 20 °C, else null. */
  readonly length: LengthInput | null;
  readonly calculations: Readonly<Record<string, number>>;
}

/** Of a steel or invar scale whose maker gives a round figure, 1/K; common practice, no source. */
const U_SCALE_EXPANSION_PER_K = 1e-6;
/** Of the class of thermometer that takes the temperatures of part and scale, K. */
const U_TEMPERATURE_K = 0.15;
const THERMOMETER = 'ST';

/**
 * Brings a reading to 20 °C where that is asked, and judges it.
 * @throws {RefusedInput} when the calculation refuses what was typed.
 */
export function judgeReading(input: ReadingInput): Judgement {
  const { plan, operation, characteristic, station } = input;
  const length = characteristic.at20 ? lengthInput(input) : null;
  const at20 = length && lengthAt20.compute(length);
  const value = at20?.length_mm ?? input.read;
  const standardUncertainty = at20?.standard_uncertainty_mm ?? plainUncertainty(input);
  const limits = limitsAt(plan, characteristic.id, operation, station);
  const verdict = judge.verdict(value, standardUncertainty, limits.lower, limits.upper);
  return {
    value,
    limits,
    standardUncertainty,
    guard: GUARD_FACTOR * standardUncertainty,
    verdict,
    length,
    calculations: {
      ...(length ? { [lengthAt20.name]: lengthAt20.version } : {}),
      ...(verdict === null ? {} : { [conformity.name]: conformity.version }),
    },
  };
}

function lengthInput(input: ReadingInput): LengthInput {
  const { plan, characteristic, read, temperatures, instrument } = input;
  const expansion = scaleExpansion(plan, characteristic, instrument);
  if (!temperatures) throw new RefusedInput('part_temperature_C', 'is missing');
  if (expansion === null)
    throw new RefusedInput(
      'scale_expansion_per_K',
      'is not known: give it with the instrument in Setup, or choose another instrument',
    );
  const u_temperature = plan.instrumentClasses.find((c) => c.id === THERMOMETER)?.standardUncertainty;
  return {
    length_mm: read,
    part_temperature_C: temperatures.part_C,
    part_expansion_per_K: characteristic.at20!.part_expansion_per_K,
    scale_temperature_C: temperatures.scale_C,
    scale_expansion_per_K: expansion,
    u_length_mm: plainUncertainty(input),
    u_part_temperature_K: u_temperature ?? U_TEMPERATURE_K,
    u_scale_temperature_K: u_temperature ?? U_TEMPERATURE_K,
    u_part_expansion_per_K: characteristic.at20!.u_part_expansion_per_K,
    u_scale_expansion_per_K: U_SCALE_EXPANSION_PER_K,
  };
}

/** The registered instrument's, else that of its class, else of the class that the characteristic names first. */
function scaleExpansion(plan: Plan, { instruments }: Characteristic, instrument: InstrumentLine | null): number | null {
  const ofClass = (id: string | undefined) => plan.instrumentClasses.find((c) => c.id === id)?.expansion_per_K ?? null;
  return instrument?.expansion_per_K ?? ofClass(instrument?.class) ?? ofClass(instruments[0]);
}

/** The characteristic's covers instrument and method together; an instrument that is worse by itself rules. */
function plainUncertainty({ characteristic, instrument }: Pick<ReadingInput, 'characteristic' | 'instrument'>): number {
  const own = instrument?.unit === characteristic.unit ? instrument.standardUncertainty : 0;
  return Math.max(characteristic.uncertainty ?? 0, own);
}

/** The temperatures as typed, and the other numbers that brought the length to 20 °C, so that it can be run again. */
export function conditionsOf(
  { length_mm: _read, ...numbers }: LengthInput,
  part: Typed,
  scale: Typed,
): Body<'reading'>['conditions'] {
  const unit = (key: string) => (key.endsWith('_per_K') ? '1/K' : key.endsWith('_K') ? 'K' : 'mm');
  return {
    ...Object.fromEntries(
      Object.entries(numbers).map(([key, value]) => [key, { text: String(value), unit: unit(key), value }]),
    ),
    part_temperature_C: part,
    scale_temperature_C: scale,
  };
}

/** What a kept reading gives when it is worked out again from the numbers that it kept. */
export function judgeAgain(plan: Plan, body: Body<'reading'>): { value: number; verdict: Verdict | null } {
  const length = keptLength(plan, body);
  const value = length ? lengthAt20.compute(length).length_mm : body.typed.value;
  const u = length ? lengthAt20.compute(length).standard_uncertainty_mm : undefined;
  const { lower, upper } = body.limits;
  return { value, verdict: judge.verdict(value, u ?? body.standardUncertainty, lower, upper) };
}

/** The input that brought a kept reading to 20 °C; what it did not keep comes from the plan that it was read under. */
export function keptLength(plan: Plan, body: Body<'reading'>): LengthInput | null {
  const characteristic = plan.characteristics.find((c) => c.id === body.characteristic);
  const { part_temperature_C, scale_temperature_C } = body.conditions;
  if (!characteristic?.at20 || !part_temperature_C || !scale_temperature_C) return null;
  const planned = lengthInput({
    plan,
    operation: body.operation,
    characteristic,
    station: body.station,
    read: body.typed.value,
    temperatures: { part_C: part_temperature_C.value, scale_C: scale_temperature_C.value },
    instrument: null,
  });
  const kept = Object.fromEntries(
    Object.keys(planned).flatMap((key) => (body.conditions[key] ? [[key, body.conditions[key].value]] : [])),
  );
  return { ...planned, ...kept };
}
