import type { HandoverState } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';

interface Step {
  readonly title: string;
  readonly detail: string;
  readonly state: 'done' | 'now' | 'todo';
}

const words = { done: 'done', now: 'now', todo: 'not yet' } as const;

/** The three steps of a handover and where this one stands. */
export function Steps({ steps }: { steps: readonly Step[] }) {
  return (
    <ol class="ho-steps">
      {steps.map(({ title, detail, state }, i) => (
        <li key={title} class={state} aria-current={state === 'now' ? 'step' : undefined}>
          <span class="n">{i + 1}</span>
          <span class="ho-step">
            <b>{title}</b>
            <span class="small">{detail}</span>
            <span class="hidden-text">{words[state]}</span>
          </span>
        </li>
      ))}
    </ol>
  );
}

/** Before a handover is signed. */
export const stepsOfPrepared = (since: string): Step[] => [
  { title: 'Prepared', detail: `from the log, ${since}`, state: 'now' },
  { title: 'Talked through', detail: 'face to face, item by item', state: 'todo' },
  { title: 'Accepted', detail: 'after a cross-check, with PIN', state: 'todo' },
];

/** From its signature on. */
export function stepsOf(view: View, state: HandoverState, talked: number): Step[] {
  const { handover, status, accepted, refusals } = state;
  const of = handover.body.items.length;
  const at = (time: string) => dayAndTime(time, view.genesis.dayOne, view.genesis.timeZone);
  const done = status !== 'waiting' || talked === of;
  const answer = accepted ?? refusals.at(-1);
  const last = answer
    ? `${accepted ? '' : 'refused by '}${answer.body.name}, ${at(answer.entry.recordedAt)}`
    : 'after a cross-check, with PIN';
  return [
    { title: 'Prepared', detail: `${handover.body.name}, ${at(handover.entry.recordedAt)}`, state: 'done' },
    { title: 'Talked through', detail: `face to face, ${talked} of ${of}`, state: done ? 'done' : 'now' },
    {
      title: accepted ? 'Accepted' : answer ? 'Not accepted' : 'Accepted',
      detail: last,
      state: answer ? 'done' : done ? 'now' : 'todo',
    },
  ];
}
