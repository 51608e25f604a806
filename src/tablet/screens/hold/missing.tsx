import { useState } from 'preact/hooks';
import type { Condition } from '../../../../shared/logbook/state/conditions.ts';
import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import { unsoundWords } from '../../../../shared/logbook/state/signing-obstacles.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { roleName } from '../../app/words.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { VerdictDrawing } from '../../parts/verdict-mark.tsx';
import { mendLink } from './mend.ts';
import { StatementForm } from './statement-form.tsx';
import { WitnessForm } from './witness-form.tsx';

/** What is missing, numbered, each with the one button that mends it. */
export function Missing({ view, state }: { view: View; state: HoldState }) {
  const { missing, refusals, status, unsound } = state;
  if (missing.length === 0 && refusals.length === 0 && !unsound) {
    // In doubt, what to do stands with the doubts.
    if (status === 'in-doubt') return null;
    return <p class="hold-pad">Nothing is missing. What is usually missed here: {state.hold.usuallyMissed}.</p>;
  }
  return (
    <ol class="hold-missing" id="missing" aria-label="What is missing" tabIndex={-1}>
      {unsound && (
        <li class="refused">
          <ConditionMark condition="blocks" decorative />
          <span>
            <b>The signatures do not release it</b>
            <span>{unsoundWords[unsound]}</span>
          </span>
        </li>
      )}
      {refusals.map((refusal) => (
        <li key={refusal.hash} class="refused">
          <ConditionMark condition="blocks" decorative />
          <span>
            <b>
              Refused by {refusal.body.name}, {roleName(refusal.body.role)}
            </b>
            <span>{refusal.body.reason}</span>
          </span>
          <a class="button" href={`/record/${refusal.hash}`}>
            Look at it
          </a>
        </li>
      ))}
      {missing.map((condition) => (
        <MissingRow key={condition.id} view={view} condition={condition} />
      ))}
    </ol>
  );
}

function MissingRow({ view, condition }: { view: View; condition: Condition }) {
  const { mend, verdict } = condition;
  const bad = verdict === 'outside' || verdict === 'not-proven';
  return (
    <li id={`missing-${condition.id}`}>
      {bad ? <VerdictDrawing verdict={verdict} /> : <ConditionMark condition="not-yet" decorative />}
      <span>
        <b>{condition.title}</b>
        <span>{condition.words}</span>
      </span>
      {mend && <MendButton view={view} condition={condition} />}
    </li>
  );
}

function MendButton({ view, condition }: { view: View; condition: Condition }) {
  const [open, setOpen] = useState(false);
  const mend = condition.mend!;
  const link = mendLink(mend);
  if (link) {
    return (
      <a class="button" href={link.href}>
        {link.words}
      </a>
    );
  }
  const close = () => setOpen(false);
  return (
    <>
      <button type="button" class="button" onClick={() => setOpen(true)}>
        {mend.to === 'witness' ? 'Witness' : 'State it'}
      </button>
      {open && mend.to === 'statement' && <StatementForm mend={mend} onClose={close} />}
      {open && mend.to === 'witness' && <WitnessForm view={view} id={mend.witness} onClose={close} />}
    </>
  );
}
