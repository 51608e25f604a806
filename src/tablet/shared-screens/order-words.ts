import type { Wait } from '../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { operationById } from '../../../shared/plan/lookup.ts';
import type { Hold, Operation } from '../../../shared/plan/schema.ts';

type Link = Operation['after'][number];

/** What a link of the plan asks, e.g. `may begin 12 h after 2.3 Bands and first tension is finished`. */
export function linkWords(view: View, { id, type, lag_h }: Link): string {
  const own = type === 'FS' || type === 'SS' ? 'may begin' : 'may be finished';
  const state = type === 'FS' || type === 'FF' ? 'is finished' : 'was begun';
  const name = operationById(view.plan, id)?.name ?? '';
  return `${own} ${lag_h > 0 ? `${lag_h} h after` : 'when'} ${id} ${name} ${state}`;
}

/** What a gate asks. */
export const gateWords = ({ id, name }: Hold): string => `may begin when hold point ${id} ${name} is released`;

/** Why it should wait: the plan's reason for the order, or what the hold point's signature says. */
export function whyWait(view: View, operation: Operation, wait: Wait): string | undefined {
  if (wait.kind === 'hold') return gateReason(view.plan.holds.find((h) => h.id === wait.id));
  const type = wait.kind === 'start' ? 'SS' : 'FS';
  return operation.after.find((l) => l.id === wait.id && l.type === type)?.why;
}

/** What a hold point's signature says, as the reason to wait for it. */
export const gateReason = (hold: Hold | undefined): string | undefined =>
  hold && `Its signature says: ${hold.meaning.replace(/\.$/, '')}.`;
