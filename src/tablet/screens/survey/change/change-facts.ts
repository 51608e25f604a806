import { controlChart } from '../../../../../shared/calculations/control-chart.ts';
import { grubbs } from '../../../../../shared/calculations/grubbs.ts';

/** What the changes of a batch say together. Figures in the unit of the values. */
export interface ChangeFacts {
  readonly count: number;
  readonly mean: number;
  /** Sample standard deviation. */
  readonly spread: number;
  readonly lowest: number;
  readonly highest: number;
  readonly lower: number;
  readonly upper: number;
  /** By index, the rules that a signal there completes. */
  readonly signals: ReadonlyMap<number, readonly number[]>;
  /** Grubbs' test, 95 %: the index of the one that does not belong to the others. */
  readonly outlier: number | null;
}

/** Fewer say nothing of a batch. */
export const LEAST = 5;

/** Null where there are too few to judge. */
export function changeFacts(values: readonly number[]): ChangeFacts | null {
  const count = values.length;
  if (count < LEAST) return null;
  const chart = controlChart.compute({ values: [...values] });
  const { outlier_index } = grubbs.compute({ values: [...values] });
  const signals = new Map<number, number[]>();
  for (const { index, rule } of chart.signals) signals.set(index, [...(signals.get(index) ?? []), rule]);
  return {
    count,
    mean: chart.mean,
    spread: Math.sqrt(values.reduce((sum, v) => sum + (v - chart.mean) ** 2, 0) / (count - 1)),
    lowest: Math.min(...values),
    highest: Math.max(...values),
    lower: chart.lower_limit,
    upper: chart.upper_limit,
    signals,
    outlier: outlier_index,
  };
}

/** What each run rule says of the value that completes it. */
const ruleWords: Readonly<Record<number, string>> = {
  1: 'beyond three standard deviations',
  2: 'two of three beyond two, on one side',
  3: 'four of five beyond one, on one side',
  4: 'eight in a row on one side of the mean',
};

/** What is said of one value, or of several in a row. */
export interface Run {
  readonly words: string;
  /** Indices, ascending. */
  readonly at: readonly number[];
}

/** The signals in the order of the chart; the same said of neighbours is said once. */
export function runsOf({ signals, outlier, count }: ChangeFacts): Run[] {
  const runs: { words: string; at: number[] }[] = [];
  for (let i = 0; i < count; i++) {
    const said = (signals.get(i) ?? []).map((rule) => ruleWords[rule]!);
    const words = [...said, ...(outlier === i ? ['an outlier by Grubbs’ test, 95 %'] : [])].join('; ');
    const last = runs.at(-1);
    if (words === '') continue;
    if (last?.words === words && last.at.at(-1) === i - 1) last.at.push(i);
    else runs.push({ words, at: [i] });
  }
  return runs;
}

/** Whether the batch may be taken for one that has settled. */
export const isStable = ({ signals, outlier }: ChangeFacts): boolean => signals.size === 0 && outlier === null;

export interface Bin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

/** Equal steps from the least to the greatest, as many as the square root of the count says; common practice, no source. */
export function binsOf(values: readonly number[]): Bin[] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (!(high > low)) return values.length === 0 ? [] : [{ from: low, to: high, count: values.length }];
  const steps = Math.max(2, Math.ceil(Math.sqrt(values.length)));
  const width = (high - low) / steps;
  const counts = new Array<number>(steps).fill(0);
  for (const value of values) {
    const bin = Math.min(steps - 1, Math.floor((value - low) / width));
    counts[bin] = counts[bin]! + 1;
  }
  return counts.map((count, i) => ({ from: low + i * width, to: low + (i + 1) * width, count }));
}
