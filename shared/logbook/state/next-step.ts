import { type MeasureState, measureStates, wantsHand } from './measures.ts';
import { type OperationState, operationState } from './sequence.ts';
import { isReleased } from './signatures.ts';
import type { View } from './view.ts';

/** What of an operation is to be done next. */
export type Step =
  | { readonly kind: 'sheet'; readonly done: number; readonly of: number }
  | { readonly kind: 'measure'; readonly measure: MeasureState }
  | { readonly kind: 'finish' };

/** Every operation as it stands, in plan order. */
export const operationStates = (view: View): OperationState[] =>
  view.memo.get(`operations/${view.judge !== null}`, () =>
    view.plan.operations.map((operation) => operationState(view, operation, isReleased(view))),
  );

/** The operations that a hand can be put to now, in plan order. */
export const openWork = (view: View): OperationState[] =>
  operationStates(view).filter((state) => state.progress === 'under-way' || state.progress === 'ready');

/** The check sheet first, then what is measured, then the finish. */
export function nextStep(view: View, { operation, sheet }: OperationState): Step {
  if (sheet.answered < sheet.items.length) return { kind: 'sheet', done: sheet.answered, of: sheet.items.length };
  const measure = measureStates(view, operation).find(wantsHand);
  return measure ? { kind: 'measure', measure } : { kind: 'finish' };
}

/** What there is to do, in one line. */
export function stepWords(step: Step): string {
  if (step.kind === 'sheet')
    return step.done === 0 ? `Check sheet, ${step.of} items` : `Check sheet, ${step.done} of ${step.of} answered`;
  if (step.kind === 'finish') return 'Everything is recorded. A crew lead calls it finished.';
  const { characteristic, done, needed } = step.measure;
  return `${characteristic.name}, ${needed === null || needed === 1 ? 'not measured yet' : `${done} of ${needed} stations`}`;
}
