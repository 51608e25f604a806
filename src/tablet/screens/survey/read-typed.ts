import type { LimitsAt } from '../../../../shared/plan/lookup.ts';
import type { Characteristic } from '../../../../shared/plan/schema.ts';
import { type Read, readFigure } from '../../app/read-figure.ts';
import { formatFigure } from '../../parts/format-figure.ts';

/** Units of things that cannot be less than nothing where the plan wants something of them. */
const AMOUNTS: ReadonlySet<string> = new Set(['mm', 'kg', 'kN']);

/** Whether a characteristic is of a kind that cannot be negative. */
export function isUnsigned(characteristic: Characteristic, limits: LimitsAt): boolean {
  if (characteristic.kind === 'count' || characteristic.at20) return true;
  return AMOUNTS.has(characteristic.unit) && ((limits.nominal ?? 0) > 0 || (limits.lower ?? 0) > 0);
}

/** Reads the figure of a characteristic. Nothing is refused for being outside its limits. */
export function readReading(text: string, unit: string, characteristic: Characteristic, limits: LimitsAt): Read {
  const read = readFigure(text, unit, characteristic.unit);
  if ('fault' in read) return read;
  const { value } = read.typed;
  if (characteristic.kind === 'count' && !Number.isInteger(value)) return { fault: 'A count is a whole number.' };
  if (value < 0 && isUnsigned(characteristic, limits))
    return {
      fault: `${formatFigure(value, { decimals: characteristic.decimals })} cannot be: this is never negative.`,
    };
  if (value === 0 && characteristic.at20) return { fault: 'A length of nothing cannot be.' };
  return read;
}

/**
 * Whether a figure that is still being typed could be all of it: the verdict waits until then, so that it does not
 * jump with every digit. On Enter every figure is judged.
 * @param read the figure in the unit of the limits
 */
export function couldBeComplete(text: string, read: number, limits: LimitsAt, decimals: number): boolean {
  const sizes = [limits.nominal, limits.lower, limits.upper].flatMap((limit) =>
    limit === null ? [] : [Math.abs(limit)],
  );
  const least = Math.min(...sizes);
  if (sizes.length > 1 && least >= 10) return Math.abs(read) > least / 2 && Math.abs(read) < Math.max(...sizes) * 2;
  const small = sizes.length > 0 && Math.max(...sizes) < 10;
  return decimals > 0 ? /[.,]\d/.test(text) : small || /\d.*\d/.test(text);
}
