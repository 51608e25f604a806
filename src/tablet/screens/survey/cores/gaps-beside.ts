import { stationState } from '../../../../../shared/logbook/state/readings.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { coresAt } from '../../../../../shared/plan/core-stations.ts';
import { stationsByCore } from '../../../../../shared/plan/cores.ts';
import type { Characteristic, Station } from '../../../../../shared/plan/schema.ts';
import { ruling } from '../survey-of.ts';

/** What stands in the gap from a core to one beside it: of several places the worst. */
export interface GapBeside {
  readonly stations: readonly Station[];
  readonly done: number;
  readonly value: number | null;
  readonly nominal: number | null;
  readonly verdict: ReturnType<typeof stationState>['verdict'];
}

const badness = { within: 0, 'not-proven': 1, outside: 2 } as const;

/** By the address beside, the gaps of a core; empty where the characteristic has no pairs. */
export function gapsBeside(
  view: View,
  operation: string,
  characteristic: Characteristic,
  address: string,
): ReadonlyMap<string, GapBeside> {
  const gaps = new Map<string, GapBeside>();
  for (const station of stationsByCore(view.plan, characteristic).get(address) ?? []) {
    const other = coresAt(station.id).find((a) => a !== address);
    if (other === undefined) continue;
    const before = gaps.get(other) ?? { stations: [], done: 0, value: null, nominal: null, verdict: null };
    gaps.set(other, withStation(view, operation, characteristic, before, station));
  }
  return gaps;
}

function withStation(
  view: View,
  operation: string,
  characteristic: Characteristic,
  before: GapBeside,
  station: Station,
): GapBeside {
  const stations = [...before.stations, station];
  const scope = `station/${operation}/${characteristic.id}/${station.id}`;
  const state = view.log.inScope(scope).length > 0 ? stationState(view, scope) : null;
  const body = state && ruling(view, state)?.body;
  if (!state || !body) return { ...before, stations };
  const far = (value: number, nominal: number | null) => Math.abs(value - (nominal ?? 0));
  const worse =
    before.value === null ||
    badness[state.verdict ?? 'within'] > badness[before.verdict ?? 'within'] ||
    (state.verdict === before.verdict && far(body.value, body.limits.nominal) > far(before.value, before.nominal));
  const taken = worse
    ? { value: body.value, nominal: body.limits.nominal, verdict: state.verdict }
    : { value: before.value, nominal: before.nominal, verdict: before.verdict };
  return { stations, done: before.done + 1, ...taken };
}
