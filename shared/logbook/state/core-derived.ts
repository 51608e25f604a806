import { CORES } from '../../plan/core-stations.ts';
import { characteristicById } from '../../plan/lookup.ts';
import { coreSample } from './core-sample.ts';
import type { Raw } from './derived-value.ts';
import { stationStates } from './readings.ts';
import { measuredOf, stationsAsked } from './stations-asked.ts';
import type { View } from './view.ts';

const GAP = 'core-gap';
const TOP = 'core-top-height';
/** Where the tops are read before the bake and after it. */
const [BEFORE, AFTER] = ['6.4', '7.2'] as const;

/** The mean of all gaps read in an operation, once all that are asked for are read; mm. */
export function gapMean(view: View, operation: string): Raw[] {
  const gap = characteristicById(view.plan, GAP);
  if (!gap) return [];
  const read = [...stationStates(view, operation, GAP).values()].filter((s) => s.current.length > 0);
  const allWithin = read.every(({ verdict }) => verdict === null || verdict === 'within');
  const drawn = coreSample(view, gap, operation)?.stations ?? null;
  const asked = stationsAsked(view.plan, gap, operation, allWithin, drawn);
  if (read.length === 0 || measuredOf(asked, new Set(read.map((s) => s.station))) < asked.least) return [];
  const gaps = read.map(({ current }) => current.at(-1)!);
  const value = gaps.reduce((sum, { body }) => sum + body.value, 0) / gaps.length;
  return [{ station: 'one', value, causes: gaps.map(({ hash }) => hash) }];
}

/** By core, how much higher its top stands after the bake than before, in % of the height that it had; less is negative. */
export function coreHeightChanges(view: View, operation: string): Raw[] {
  const before = stationStates(view, BEFORE, TOP);
  const back = view.plan.design.back_thickness_mm;
  return [...stationStates(view, operation, TOP)].flatMap(([station, { current }]) => {
    const [then, now] = [before.get(station)?.current.at(-1), current.at(-1)];
    // The core stands on its spacer, as high above the floor as the back is thick.
    const height = then ? then.body.value - back : 0;
    if (!then || !now || height <= 0) return [];
    const value = (100 * (now.body.value - then.body.value)) / height;
    return [{ station, value, causes: [then.hash, now.hash] }];
  });
}

/** By core, the glass that will stand over its top: the front surface on the core's own axis less its top after the bake; mm. */
export function faceThicknesses(view: View): Raw[] {
  const { centre_thickness_mm, radius_of_curvature_m } = view.plan.design;
  const tops = stationStates(view, AFTER, TOP);
  return (view.plan.stationSets[CORES] ?? []).flatMap(({ id, x_mm = 0, y_mm = 0 }) => {
    const top = tops.get(id)?.current.at(-1);
    if (!top) return [];
    // Rise of the paraboloid over its lowest point, as in the height of a core.
    const rise_mm = (x_mm ** 2 + y_mm ** 2) / (2000 * radius_of_curvature_m);
    return [{ station: id, value: centre_thickness_mm + rise_mm - top.body.value, causes: [top.hash] }];
  });
}
