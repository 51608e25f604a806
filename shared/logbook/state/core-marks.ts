import { isOfCores } from '../../plan/core-stations.ts';
import { coresOf, stationsByCore } from '../../plan/cores.ts';
import { characteristicById } from '../../plan/lookup.ts';
import type { Characteristic, Operation } from '../../plan/schema.ts';
import { checkedStations } from './checks.ts';
import { coreSample } from './core-sample.ts';
import { stationStates } from './readings.ts';
import type { View } from './view.ts';

/**
 * How a core is drawn: the worst of what stands at it; within once all that is asked there stands; begun while some of
 * it is missing, missing while all of it is, and not asked where a sample passes it over.
 */
export type CoreMark = 'outside' | 'not-proven' | 'within' | 'begun' | 'missing' | 'not-asked';

export interface CoreState {
  readonly mark: CoreMark;
  /** Stations with something that stands, of those that are asked for or were read besides. */
  readonly done: number;
  readonly asked: number;
  readonly outside: number;
  readonly notProven: number;
}

/** What a map of the cores is drawn for: a characteristic, or an item of the check sheet answered core by core. */
export type CoreLayer =
  | { readonly kind: 'characteristic'; readonly characteristic: Characteristic }
  | { readonly kind: 'item'; readonly item: string };

export const NOT_ASKED: CoreState = { mark: 'not-asked', done: 0, asked: 0, outside: 0, notProven: 0 };

/** What is measured by hand at the cores in an operation. */
export const coreCharacteristics = (view: View, operation: Operation): readonly Characteristic[] =>
  operation.measures.flatMap((id) => {
    const c = characteristicById(view.plan, id);
    return c && c.kind !== 'derived' && isOfCores(view.plan, c) ? [c] : [];
  });

/** One core in an operation, for all layers together. */
export function coreState(view: View, operation: string, layers: readonly CoreLayer[], address: string): CoreState {
  return layers.map((layer) => layerState(view, operation, layer, address)).reduce(together, NOT_ASKED);
}

function together(a: CoreState, b: CoreState): CoreState {
  const sum = {
    done: a.done + b.done,
    asked: a.asked + b.asked,
    outside: a.outside + b.outside,
    notProven: a.notProven + b.notProven,
  };
  return { ...sum, mark: markOf(sum) };
}

function markOf({ done, asked, outside, notProven }: Omit<CoreState, 'mark'>): CoreMark {
  if (outside > 0) return 'outside';
  if (notProven > 0) return 'not-proven';
  if (done >= asked) return asked === 0 ? 'not-asked' : 'within';
  return done > 0 ? 'begun' : 'missing';
}

function layerState(view: View, operation: string, layer: CoreLayer, address: string): CoreState {
  if (layer.kind === 'characteristic') return measuredState(view, operation, layer.characteristic, address);
  const answer = checkedStations(view, operation, layer.item).get(address)?.answer;
  const sum = { done: answer ? 1 : 0, asked: 1, outside: answer === 'no' ? 1 : 0, notProven: 0 };
  return { ...sum, mark: markOf(sum) };
}

function measuredState(view: View, operation: string, characteristic: Characteristic, address: string): CoreState {
  const stations = stationsByCore(view.plan, characteristic).get(address);
  if (!stations) return NOT_ASKED;
  const states = stationStates(view, operation, characteristic.id);
  const drawn = sampledStations(view, characteristic, operation);
  let [done, asked, outside, notProven] = [0, 0, 0, 0];
  for (const { id } of stations) {
    const state = states.get(id);
    const stands = state !== undefined && state.current.length > 0;
    if (stands) done += 1;
    if (stands || drawn === null || drawn.has(id)) asked += 1;
    if (state?.verdict === 'outside') outside += 1;
    if (state?.verdict === 'not-proven') notProven += 1;
  }
  const sum = { done, asked, outside, notProven };
  return { ...sum, mark: markOf(sum) };
}

/** Null where all are asked for: without a sample, or once one of it is not within. */
const sampledStations = (view: View, characteristic: Characteristic, operation: string): ReadonlySet<string> | null =>
  view.memo.get(`sampled stations/${operation}/${characteristic.id}/${view.judge !== null}`, () => {
    const sample = coreSample(view, characteristic, operation);
    if (!sample) return null;
    const states = [...stationStates(view, operation, characteristic.id).values()];
    const grown = states.some(({ verdict }) => verdict === 'outside' || verdict === 'not-proven');
    return grown ? null : new Set(sample.stations);
  });

/**
 * Every core of the mould, one at a step, so that thousands can be gone through a few at a time while a screen stays
 * alive.
 */
export function* coreStates(
  view: View,
  operation: string,
  layers: readonly CoreLayer[],
): Generator<undefined, ReadonlyMap<string, CoreState>> {
  const states = new Map<string, CoreState>();
  for (const { address } of coresOf(view.plan)) {
    states.set(address, coreState(view, operation, layers, address));
    yield;
  }
  return states;
}
