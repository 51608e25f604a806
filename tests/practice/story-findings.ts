import { findings } from '../../shared/logbook/state/findings.ts';
import type { View } from '../../shared/logbook/state/view.ts';

/** Found of readings and rounds; what a story leaves out is found besides. */
const OF_READINGS: ReadonlySet<string> = new Set([
  'outside',
  'not-proven',
  'derived-outside',
  'two-readings',
  'verdict-differs',
  'missed-round',
  'alarm',
]);

/** Titles of what was found of the readings and rounds of some operations. */
export const foundOfReadings = (view: View, operations: readonly string[]): string[] =>
  findings(view)
    .filter((f) => operations.includes(f.operation) && OF_READINGS.has(f.rule))
    .map((f) => f.title);
