import type { Body, Typed } from '../logbook/kinds.ts';
import { conditionsOf, judgeReading, type ReadingInput } from '../logbook/state/judge-reading.ts';

type Judged = Pick<
  Body<'reading'>,
  'typed' | 'conditions' | 'value' | 'limits' | 'standardUncertainty' | 'guard' | 'verdict' | 'calculations'
>;

export const typedOf = (value: number, decimals: number, unit: string): Typed => {
  // A rounded −0.00 is nothing.
  const text = (Number(value.toFixed(decimals)) + 0).toFixed(decimals);
  return { text, unit, value: Number(text) };
};

/** What the tablet works out and keeps of a reading that shows so many decimals. */
export function judgedReading(taken: ReadingInput): Judged {
  const { characteristic, temperatures } = taken;
  const typed = typedOf(taken.read, characteristic.decimals, characteristic.unit);
  const { length, limits, calculations, ...judged } = judgeReading({ ...taken, read: typed.value });
  return {
    typed,
    conditions:
      length && temperatures
        ? conditionsOf(length, typedOf(temperatures.part_C, 1, '°C'), typedOf(temperatures.scale_C, 1, '°C'))
        : {},
    ...judged,
    limits: { ...limits },
    calculations: { ...calculations },
  };
}

/** What a warm scale reads on a warm part that is so long at 20 °C. */
export function asRead(length_mm: number, { characteristic, temperatures, instrument }: ReadingInput): number {
  if (!characteristic.at20 || !temperatures) return length_mm;
  const part = 1 + characteristic.at20.part_expansion_per_K * (temperatures.part_C - 20);
  const scale = 1 + (instrument?.expansion_per_K ?? 0) * (temperatures.scale_C - 20);
  return (length_mm * part) / scale;
}
