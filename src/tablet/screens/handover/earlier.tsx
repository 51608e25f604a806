import { type HandoverState, handoverStates } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';

const SHOWN = 3;

/** The handovers before, newest first. */
export function Earlier({ view, except }: { view: View; except: string | null }) {
  const all = handoverStates(view)
    .filter((s) => s.handover.hash !== except)
    .toReversed();
  return (
    <Sheet
      title="Earlier handovers"
      class="ho-earlier"
      aside={all.length > SHOWN ? `${all.length} in Record` : undefined}
    >
      {all.length === 0 ? (
        <p class="pad dim small">None yet. Each one accepted, or refused, will stand here.</p>
      ) : (
        <ul class="rows">
          {all.slice(0, SHOWN).map((state) => (
            <li key={state.handover.hash}>
              <a class="row" href={`/handover/${state.handover.hash}`}>
                <span class="grow">
                  <b>{state.handover.body.name}</b>
                  <span class="second small dim">
                    {dayAndTime(state.handover.entry.recordedAt, view.genesis.dayOne, view.genesis.timeZone)},{' '}
                    {answerWords(state)}
                  </span>
                </span>
              </a>
            </li>
          ))}
        </ul>
      )}
    </Sheet>
  );
}

/** What became of a handover, in a few words. */
export function answerWords({ status, accepted, refusals }: HandoverState): string {
  if (status === 'waiting') return 'not answered';
  if (accepted) return `accepted by ${accepted.body.name}`;
  const { name, refused } = refusals.at(-1)!.body;
  return `refused by ${name} in ${refused.length === 1 ? '1 item' : `${refused.length} items`}`;
}
