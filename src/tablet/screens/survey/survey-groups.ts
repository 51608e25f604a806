import { type OperationState, operationState } from '../../../../shared/logbook/state/sequence.ts';
import { isReleased } from '../../../../shared/logbook/state/signatures.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { countsAt, type Survey } from './survey-of.ts';

/** A survey as a list shows it. */
export type ListedSurvey = Pick<Survey, 'operation' | 'characteristic' | 'counts'>;

/** The surveys of one operation. */
export interface OperationSurveys {
  readonly state: OperationState;
  readonly surveys: readonly ListedSurvey[];
}

export interface SurveyGroups {
  /** What this shift can do now. */
  readonly now: readonly OperationSurveys[];
  /** What waits for other work. */
  readonly later: readonly OperationSurveys[];
  readonly done: readonly OperationSurveys[];
}

/** Every survey of the plan by operation; those that a shift can do come first. */
export function surveyGroups(view: View): SurveyGroups {
  const all = view.plan.operations.flatMap((operation): OperationSurveys[] => {
    const characteristics = view.plan.characteristics.filter((c) => c.operations.includes(operation.id));
    if (characteristics.length === 0) return [];
    return [
      {
        state: operationState(view, operation, isReleased(view)),
        surveys: characteristics.map((c) => ({
          operation,
          characteristic: c,
          counts: countsAt(view, operation.id, c),
        })),
      },
    ];
  });
  const where = (...progress: OperationState['progress'][]) => all.filter((o) => progress.includes(o.state.progress));
  return { now: where('under-way', 'ready'), later: where('blocked'), done: where('done') };
}
