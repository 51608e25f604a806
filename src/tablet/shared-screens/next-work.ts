import type { HoldState } from '../../../shared/logbook/state/holds.ts';
import type { Step } from '../../../shared/logbook/state/next-step.ts';
import { measureHref } from './measure-href.ts';

export { nextStep, openWork, operationStates, type Step, stepWords } from '../../../shared/logbook/state/next-step.ts';

export const stepHref = (operation: string, step: Step): string =>
  step.kind === 'measure'
    ? measureHref(step.measure.characteristic, operation)
    : `/sequence/${operation}${step.kind === 'sheet' ? '#sheet' : ''}`;

export const stepButton = (step: Step): string =>
  step.kind === 'sheet' ? 'Fill the check sheet' : step.kind === 'measure' ? 'Measure' : 'Call it finished';

/** How far a hold point is: "4 of 11 conditions met". */
export const holdWords = ({ status, conditions, missing }: HoldState): string =>
  status === 'in-doubt'
    ? 'what it was signed on has changed: sign again'
    : `${conditions.length - missing.length} of ${conditions.length} conditions met`;
