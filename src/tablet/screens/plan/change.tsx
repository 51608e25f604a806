import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { planDifference } from '../../../../shared/plan/plan-difference.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { useDraft } from '../../app/use-draft.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { PlanChangesList } from '../../shared-screens/plan-changes.tsx';
import { draftKey, emptyDraft, type PlanDraft, proposalOf } from '../../shared-screens/plan-draft.ts';
import { FigureForm } from './figure-form.tsx';
import { JoinChoices } from './join-choices.tsx';
import { Preview } from './preview.tsx';
import './plan.css';

/** A revision in the making: figures set anew, then what they would do, then the signature. */
export function ChangeScreen() {
  const v = view.value;
  return v && <Change view={v} />;
}

function Change({ view: v }: { view: View }) {
  const { item } = useLocation().query;
  const draft = useDraft<PlanDraft>(draftKey, emptyDraft);
  const [looking, setLooking] = useState(false);
  if (!draft.ready) return null;
  const value = item && draft.value.item === '' ? { ...draft.value, item } : draft.value;
  const proposal = proposalOf(v, value);
  const groups = planDifference(v.plan, proposal.plan);
  const name = `Revision ${proposal.plan.revision}`;
  if (looking)
    return (
      <Preview
        view={v}
        proposal={proposal}
        groups={groups}
        reason={value.reason}
        onBack={() => setLooking(false)}
        onSigned={draft.clear}
      />
    );
  return (
    <Screen place="setup" name={name} detail="not signed yet" work="plan-work">
      <div class="plan-side">
        {proposal.conflicts.length > 0 && (
          <JoinChoices
            view={v}
            proposal={proposal}
            choices={value.choices}
            onChoice={(path, index) => draft.change({ choices: { ...draft.latest().choices, [path]: index } })}
          />
        )}
        <FigureForm
          view={v}
          proposal={proposal}
          draft={{ ...draft, value }}
          changed={groups.length > 0}
          onLook={() => setLooking(true)}
        />
      </div>
      <div class="plan-list">
        <Sheet title="What it changes" aside={`against revision ${v.plan.revision}`}>
          {groups.length === 0 ? (
            <p class="pad">Nothing yet. Choose what to change, and type the new figure.</p>
          ) : (
            <PlanChangesList groups={groups} />
          )}
        </Sheet>
        <a class="button" href="/plan">
          To the plan; what you typed stays
        </a>
      </div>
    </Screen>
  );
}
