import { characteristicById, stationsOf } from '../../plan/lookup.ts';
import type { Characteristic, Operation } from '../../plan/schema.ts';
import type { Verdict } from '../kinds.ts';
import { stationStates, worst } from './readings.ts';
import type { View } from './view.ts';

/** How far a characteristic has been measured in an operation. */
export interface MeasureState {
  readonly characteristic: Characteristic;
  /** Stations with a reading that stands, or with a value worked out. */
  readonly done: number;
  /** How many are asked for; null where stations are named as they come. */
  readonly needed: number | null;
  readonly enough: boolean;
  readonly verdict: Verdict | null;
  /** Worked out from readings of other characteristics: nobody types it in. */
  readonly workedOut: boolean;
}

/** Something of it is still to be measured by hand. */
export const wantsHand = (state: MeasureState): boolean => !state.workedOut && !state.enough;

/** What `each` names where there may well be none: then nothing is missing. */
const DAMAGE: ReadonlySet<string> = new Set(['crack', 'chip']);

export const measureStates = (view: View, operation: Operation): MeasureState[] =>
  operation.measures.flatMap((id) => {
    const characteristic = characteristicById(view.plan, id);
    return characteristic ? [measureState(view, operation.id, characteristic)] : [];
  });

function measureState(view: View, operation: string, characteristic: Characteristic): MeasureState {
  const derived = derivedOf(view, operation, characteristic);
  const states = [...stationStates(view, operation, characteristic.id).values()].filter((s) => s.current.length > 0);
  const done = derived ? derived.length : states.length;
  const range = view.judge?.range(view, characteristic.id, operation)?.verdict ?? null;
  const verdict = worst(derived ? derived.map((d) => d.verdict) : [range, ...states.map((s) => s.verdict)]);
  const needed = derived && done > 0 ? done : neededOf(view, operation, characteristic, verdict);
  return {
    characteristic,
    done,
    needed,
    enough: done >= (needed ?? 1) || DAMAGE.has(characteristic.each ?? ''),
    verdict,
    workedOut: derived !== null,
  };
}

/** The values worked out, or null where a person enters the value. */
function derivedOf(view: View, operation: string, characteristic: Characteristic) {
  if (characteristic.kind !== 'derived') return null;
  return view.judge ? view.judge.derive(view, characteristic.id, operation) : [];
}

/** A sample is enough while everything in it is within; then all stations are asked for. */
function neededOf(
  view: View,
  operation: string,
  characteristic: Characteristic,
  verdict: Verdict | null,
): number | null {
  if (characteristic.each !== undefined) return null;
  const stations = stationsOf(view.plan, characteristic).length;
  const { all, allIn, count } = characteristic.sampling;
  const sampled = !all && !allIn?.includes(operation) && (verdict === null || verdict === 'within');
  return sampled && count !== undefined ? Math.min(count, stations) : stations;
}
