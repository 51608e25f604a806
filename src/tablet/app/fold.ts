/** What works answers out of the log: a file of its own, which the first frame of a long log does not wait for. */
export { Standing } from '../../../shared/logbook/standing.ts';
export { viewOf } from '../../../shared/logbook/state/view.ts';
export { frameFacts } from './frame-facts.ts';
export { workOut } from './work-out.ts';
