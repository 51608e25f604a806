import type { Body } from '../../../../shared/logbook/kinds.ts';
import { roundForTime } from '../../../../shared/logbook/state/rounds.ts';
import { isoWithOffset } from '../../app/time.ts';
import { rowsToKeep, type Walk, type WalkInput } from './round-input.ts';

/** A round that is read and not written yet. */
export interface EntryInput extends Pick<WalkInput, 'view' | 'heat' | 'extent' | 'draft'> {
  readonly operation: string;
  readonly walk: Walk;
  readonly who: string;
}

/** The entry of a round as it is written. */
export function entryOf(input: EntryInput): { body: Body<'round'>; observedAt: string } {
  const { view, heat, operation, extent, draft, walk, who } = input;
  const due = roundForTime(heat, walk.at_ms, extent);
  const typed = walk.items.filter((i) => i.text !== '' && i.done);
  const byGauge = typed.length > 0 && typed.every((i) => draft.gauge[i.channel.id]);
  const words = draft.words.trim();
  return {
    observedAt: isoWithOffset(new Date(walk.at_ms)),
    body: {
      operation,
      heatPlan: heat.plan.id,
      extent,
      dueAt: due ? isoWithOffset(new Date(due.due_ms)) : null,
      plan: view.planHash,
      readings: rowsToKeep(heat, walk),
      observer: draft.observer ?? who,
      way: draft.paper ? 'paper' : byGauge ? 'gauge' : 'keypad',
      ...(words === '' ? {} : { words }),
    },
  };
}
