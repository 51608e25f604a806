import { characteristicById } from '../../plan/lookup.ts';
import type { Characteristic, Operation } from '../../plan/schema.ts';
import type { Verdict } from '../kinds.ts';
import { stationStates, worst } from './readings.ts';
import { measuredOf, stationsAsked } from './stations-asked.ts';
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

export const measureStates = (view: View, operation: Operation): MeasureState[] =>
  operation.measures.flatMap((id) => {
    const characteristic = characteristicById(view.plan, id);
    return characteristic ? [measureState(view, operation.id, characteristic)] : [];
  });

function measureState(view: View, operation: string, characteristic: Characteristic): MeasureState {
  const derived = derivedOf(view, operation, characteristic);
  const states = [...stationStates(view, operation, characteristic.id).values()].filter((s) => s.current.length > 0);
  const range = view.judge?.range(view, characteristic.id, operation)?.verdict ?? null;
  const verdict = worst(derived ? derived.map((d) => d.verdict) : [range, ...states.map((s) => s.verdict)]);
  const asked = stationsAsked(
    view.plan,
    characteristic,
    operation,
    verdict === null || verdict === 'within',
    view.judge?.sample(view, characteristic, operation),
  );
  const present = new Set((derived ?? states).map(({ station }) => station));
  const workedOut = derived !== null && derived.length > 0;
  const done = workedOut ? derived.length : measuredOf(asked, present);
  return {
    characteristic,
    done,
    needed: workedOut ? done : asked.stations && asked.least,
    enough: workedOut || done >= asked.least,
    verdict,
    workedOut: derived !== null,
  };
}

/** The values worked out, or null where a person enters the value. */
function derivedOf(view: View, operation: string, characteristic: Characteristic) {
  if (characteristic.kind !== 'derived') return null;
  return view.judge ? view.judge.derive(view, characteristic.id, operation) : [];
}
