import type { Wait } from '../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { operationById } from '../../../shared/plan/lookup.ts';

/** What an operation waits for, in words. */
export function waitWords(view: View, wait: Wait): string {
  if (wait.kind === 'hold') {
    const name = view.plan.holds.find((h) => h.id === wait.id)?.name ?? '';
    return `hold point ${wait.id} ${name} is not released`;
  }
  const name = operationById(view.plan, wait.id)?.name ?? '';
  return `${wait.id} ${name} ${wait.kind === 'start' ? 'has not begun' : 'is not finished'}`;
}

/** Where one goes to see what it waits for. */
export const waitHref = (wait: Wait): string => (wait.kind === 'hold' ? `/hold/${wait.id}` : `/sequence/${wait.id}`);
