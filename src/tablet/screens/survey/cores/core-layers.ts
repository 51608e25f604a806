import { checkedStations } from '../../../../../shared/logbook/state/checks.ts';
import { type CoreLayer, coreCharacteristics } from '../../../../../shared/logbook/state/core-marks.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { isOfCores } from '../../../../../shared/plan/core-stations.ts';
import type { Operation } from '../../../../../shared/plan/schema.ts';
import type { Survey } from '../survey-of.ts';

/** In place of a characteristic's id in an address: all that is done at the cores of an operation. */
export const ALL = 'cores';

/** The items of a check sheet that are answered core by core; where the plan marks none, any of them may be. */
export function coreItems({ checks }: Operation): Operation['checks'] {
  const marked = checks.filter((check) => check.stations !== undefined);
  return marked.length > 0 ? marked : checks;
}

/** All that is measured core by core in an operation, and those items that somebody has begun to answer so. */
export const layersOf = (view: View, operation: Operation): CoreLayer[] => [
  ...coreCharacteristics(view, operation).map(
    (characteristic): CoreLayer => ({ kind: 'characteristic', characteristic }),
  ),
  ...operation.checks
    .filter(({ id }) => checkedStations(view, operation.id, id).size > 0)
    .map(({ id }): CoreLayer => ({ kind: 'item', item: id })),
];

/** Whether an operation works at cores at all. */
export const hasCores = (view: View, operation: Operation): boolean => coreCharacteristics(view, operation).length > 0;

export const isCoreSurvey = (view: View, { characteristic, items }: Survey): boolean =>
  characteristic.kind !== 'derived' && items.length > 0 && isOfCores(view.plan, characteristic);

/** What a characteristic is called where room is short: its name without the word that all of them begin with. */
export function shortName(name: string): string {
  const [first, ...rest] = name.split(', ');
  const short = rest.length > 0 && /^(cores|pins|edge cores)$/i.test(first!) ? rest.join(', ') : name;
  const named = /^pins$/i.test(first!) ? `pin ${short}` : short;
  return named.charAt(0).toUpperCase() + named.slice(1);
}
