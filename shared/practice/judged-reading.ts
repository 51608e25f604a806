import { conformity } from '../calculations/conformity.ts';
import { lengthAt20 } from '../calculations/length-at-20.ts';
import type { Body, Typed } from '../logbook/kinds.ts';
import { judge } from '../logbook/state/derived.ts';
import { limitsAt } from '../plan/lookup.ts';
import type { Characteristic, Plan } from '../plan/schema.ts';

type InstrumentLine = Body<'instrument'>;
type LengthInput = Parameters<typeof lengthAt20.compute>[0];

/** One side of a normal distribution at 95 % (ISO 14253-1). */
const GUARD_FACTOR = 1.65;
/** Of a steel scale whose maker gives a round figure, 1/K; common practice, no source. */
const U_SCALE_EXPANSION_PER_K = 1e-6;
/** Of the hand-held thermometer, K; the plan's class ST. */
const U_TEMPERATURE_K = 0.15;

export interface Temperatures {
  readonly part_C: number;
  readonly scale_C: number;
}

export interface ReadingTaken {
  readonly plan: Plan;
  readonly operation: string;
  readonly characteristic: Characteristic;
  readonly station: string;
  /** As read, in the characteristic's unit. */
  readonly read: number;
  readonly temperatures: Temperatures | null;
  readonly instrument: InstrumentLine | null;
}

type Judged = Pick<
  Body<'reading'>,
  'typed' | 'conditions' | 'value' | 'limits' | 'standardUncertainty' | 'guard' | 'verdict' | 'calculations'
>;

export const typedOf = (value: number, decimals: number, unit: string): Typed => {
  // A rounded −0.00 is nothing.
  const text = (Number(value.toFixed(decimals)) + 0).toFixed(decimals);
  return { text, unit, value: Number(text) };
};

/** What the tablet works out and keeps of a reading: at 20 °C where the characteristic says so, judged. */
export function judgedReading(taken: ReadingTaken): Judged {
  const { plan, operation, characteristic, station, instrument } = taken;
  const typed = typedOf(taken.read, characteristic.decimals, characteristic.unit);
  const length = lengthOf(taken, typed.value);
  const at20 = length && lengthAt20.compute(length);
  const value = at20?.length_mm ?? typed.value;
  const standardUncertainty =
    at20?.standard_uncertainty_mm ?? Math.max(characteristic.uncertainty ?? 0, own(characteristic, instrument) ?? 0);
  const limits = limitsAt(plan, characteristic.id, operation, station);
  const verdict = judge.verdict(value, standardUncertainty, limits.lower, limits.upper);
  return {
    typed,
    conditions: length && taken.temperatures ? conditionsOf(length, taken.temperatures) : {},
    value,
    limits,
    standardUncertainty,
    guard: GUARD_FACTOR * standardUncertainty,
    verdict,
    calculations: {
      ...(length ? { [lengthAt20.name]: lengthAt20.version } : {}),
      ...(verdict === null ? {} : { [conformity.name]: conformity.version }),
    },
  };
}

/** What a warm scale reads on a warm part that is so long at 20 °C. */
export function asRead(length_mm: number, { characteristic, temperatures, instrument }: ReadingTaken): number {
  if (!characteristic.at20 || !temperatures) return length_mm;
  const part = 1 + characteristic.at20.part_expansion_per_K * (temperatures.part_C - 20);
  const scale = 1 + (instrument?.expansion_per_K ?? 0) * (temperatures.scale_C - 20);
  return (length_mm * part) / scale;
}

const own = ({ unit }: Characteristic, instrument: InstrumentLine | null): number | null =>
  instrument?.unit === unit ? instrument.standardUncertainty : null;

function lengthOf({ characteristic, temperatures, instrument }: ReadingTaken, length_mm: number): LengthInput | null {
  if (!characteristic.at20) return null;
  if (!temperatures || instrument?.expansion_per_K == null)
    throw new Error(`${characteristic.id} is brought to 20 °C: it needs temperatures and an instrument that expands`);
  return {
    length_mm,
    part_temperature_C: temperatures.part_C,
    part_expansion_per_K: characteristic.at20.part_expansion_per_K,
    scale_temperature_C: temperatures.scale_C,
    scale_expansion_per_K: instrument.expansion_per_K,
    u_length_mm: own(characteristic, instrument) ?? characteristic.uncertainty ?? 0,
    u_part_temperature_K: U_TEMPERATURE_K,
    u_scale_temperature_K: U_TEMPERATURE_K,
    u_part_expansion_per_K: characteristic.at20.u_part_expansion_per_K,
    u_scale_expansion_per_K: U_SCALE_EXPANSION_PER_K,
  };
}

/** The temperatures as typed, and the other numbers that brought the length to 20 °C, so that it can be run again. */
function conditionsOf({ length_mm: _read, ...numbers }: LengthInput, { part_C, scale_C }: Temperatures) {
  const unit = (key: string) => (key.endsWith('_per_K') ? '1/K' : key.endsWith('_K') ? 'K' : 'mm');
  return {
    ...Object.fromEntries(
      Object.entries(numbers).map(([key, value]) => [key, { text: String(value), unit: unit(key), value }]),
    ),
    part_temperature_C: typedOf(part_C, 1, '°C'),
    scale_temperature_C: typedOf(scale_C, 1, '°C'),
  };
}
