import { useState } from 'preact/hooks';
import { clockTime } from '../../app/time.ts';
import { Overlay } from '../../parts/overlay.tsx';
import type { Round } from './use-round.ts';

/** Saves the round in one step; where something is not read it says what first. */
export function SaveRound({ round }: { round: Round }) {
  const [asking, ask] = useState(false);
  const { walk, saving, observed } = round;
  const open = walk.items.filter((i) => !i.done);
  const wrong = walk.items.find((i) => i.fault !== null);
  const paper = observed && 'fault' in observed ? observed.fault : null;
  const save = () => {
    if (wrong) round.choose(wrong.channel.id);
    else if (open.length > 0 || paper) ask(true);
    else void round.save();
  };
  const words = saving
    ? 'Saving'
    : wrong
      ? `${wrong.channel.id} cannot be read`
      : open.length > 0
        ? `Save the round: ${open.length} not read`
        : 'Save the round';
  return (
    <>
      <button type="button" class={`button wide ${open.length > 0 || wrong ? '' : 'main'}`} onClick={save}>
        {words}
      </button>
      {asking && (
        <Overlay title="Save the round" closeLabel="Go on reading" onClose={() => ask(false)}>
          {paper && <p class="field-error">{paper} It stands under “Who, paper”.</p>}
          {open.length > 0 && (
            <p>
              Not read: {open.map((i) => i.channel.id).join(', ')}. The round is kept without them, and nothing is
              invented for them.
            </p>
          )}
          <DueLine round={round} />
          {round.problem && (
            <p class="error small" role="alert">
              {round.problem}
            </p>
          )}
          {!paper && walk.done > 0 && (
            <button type="button" class="button main wide" onClick={() => void round.save()}>
              {saving ? 'Saving' : `Save ${walk.done} channels`}
            </button>
          )}
          {walk.done === 0 && <p>No channel is read: there is nothing to save.</p>}
        </Overlay>
      )}
    </>
  );
}

function DueLine({ round }: { round: Round }) {
  const { due, view, walk } = round;
  const { timeZone } = view.genesis;
  const at = clockTime(new Date(walk.at_ms), timeZone);
  return (
    <p class="small dim">
      {due
        ? `Read at ${at}, for round ${due.number}, due ${clockTime(new Date(due.due_ms), timeZone)}.`
        : `Read at ${at}, between the due times: it is kept and fills no due round.`}
    </p>
  );
}
