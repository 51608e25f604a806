import type { Operation } from '../../plan/schema.ts';
import type { Fact } from './findings.ts';
import { measureStates, wantsHand } from './measures.ts';
import { mark } from './sequence.ts';
import { sheetState } from './sheets.ts';
import type { View } from './view.ts';

/** What an operation still lacks before a lead would call it finished, in words. */
export function leftUndone(view: View, operation: Operation): string[] {
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

/** An operation that its lead called finished while something of it is missing. It goes when that is made good. */
export function finishedShort(view: View, id: string): Fact[] {
  const finished = mark(view, id, 'finished');
  const operation = view.plan.operations.find((o) => o.id === id);
  if (!finished || !operation) return [];
  const undone = leftUndone(view, operation);
  if (undone.length === 0) return [];
  return [
    {
      rule: 'finished-short',
      subject: [id],
      operation: id,
      severity: 'major',
      blocks: null,
      title: `Operation ${id} was called finished with ${undone.length === 1 ? 'one thing' : `${undone.length} things`} missing`,
      words: `${undone.join('; ')}.`,
      causes: [finished.hash],
      settled: false,
    },
  ];
}
