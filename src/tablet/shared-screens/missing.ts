import { measureStates, wantsHand } from '../../../shared/logbook/state/measures.ts';
import { sheetState } from '../../../shared/logbook/state/sheets.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import type { Operation } from '../../../shared/plan/schema.ts';

/** What an operation still lacks before a lead would call it finished, in words. */
export function missingOf(view: View, operation: Operation): string[] {
  const { items, answered } = sheetState(view, operation.id);
  const unanswered = items.length - answered;
  return [
    ...(unanswered > 0 ? [`${unanswered} of ${items.length} items of the check sheet not answered`] : []),
    ...measureStates(view, operation)
      .filter(wantsHand)
      .map(({ characteristic, done, needed }) =>
        needed === null
          ? `${characteristic.name}: nothing recorded`
          : `${characteristic.name}: ${needed - done} of ${needed} not measured`,
      ),
  ];
}
