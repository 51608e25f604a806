/** What a plot shows from below to above, in the unit of its lines. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** Below this a steady furnace would be drawn as noise, K. */
const LEAST_SPAN = 2;
/** What a plot without a value shows, °C. */
const NOTHING: Range = { low: 0, high: 100 };
const STEPS = [1, 2, 5, 10];

/** Room above and below, and never so little that noise fills the sheet. */
export function padded(low: number, high: number): Range {
  if (!(low <= high)) return NOTHING;
  const span = Math.max(LEAST_SPAN, high - low);
  const middle = (low + high) / 2;
  return { low: middle - span * 0.55, high: middle + span * 0.55 };
}

/** What shows both. */
export const joined = (a: Range, b: Range): Range => ({ low: Math.min(a.low, b.low), high: Math.max(a.high, b.high) });

/** Round values between two ends, at most so many, with their words. */
export function valueTicks({ low, high }: Range, most: number): { readonly at: number; readonly words: string }[] {
  const wanted = (high - low) / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(wanted));
  const step = power * STEPS.find((s) => s * power >= wanted * (1 - 1e-9))!;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.max(0, Math.floor(high / step) - first + 1) }, (_, i) => {
    const at = (first + i) * step;
    return { at, words: at.toFixed(decimals).replace('-', '−') };
  });
}
