import { characteristicById } from '../../plan/lookup.ts';
import { currentValue, stationStates } from './readings.ts';
import type { View } from './view.ts';

const BASELINE = 'hold-baseline';

/** What a pair or a middle channel showed at an even soak, the later soak first; null where nobody recorded it. */
export function baselineOf(view: View, station: string): number | null {
  const operations = characteristicById(view.plan, BASELINE)?.operations ?? [];
  for (const operation of [...operations].reverse()) {
    const value = currentValue(stationStates(view, operation, BASELINE).get(station));
    if (value !== null) return value;
  }
  return null;
}
