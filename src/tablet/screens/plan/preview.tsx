import { useEffect, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { type PlanEffects, planEffects } from '../../../../shared/logbook/state/plan-effects.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { PlanChanges } from '../../../../shared/plan/plan-difference.ts';
import { signRevision } from '../../acts/revise-plan.ts';
import { Screen } from '../../app/screen.tsx';
import { person } from '../../app/session.ts';
import { openView } from '../../app/tablet.ts';
import { useSaving } from '../../app/use-saving.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { PlanChangesList } from '../../shared-screens/plan-changes.tsx';
import type { Proposal } from '../../shared-screens/plan-draft.ts';
import { EffectLines, Effects } from './effects.tsx';

interface Props {
  readonly view: View;
  readonly proposal: Proposal;
  readonly groups: readonly PlanChanges[];
  readonly reason: string;
  readonly onBack: () => void;
  readonly onSigned: () => Promise<void>;
}

/** What a revision changes and would do, and its signature. */
export function Preview({ view, proposal, groups, reason, onBack, onSigned }: Props) {
  const effects = useEffects(view, proposal);
  const { revision } = proposal.plan;
  return (
    <Screen place="setup" name={`Revision ${revision}`} detail="looked through, not signed yet" work="plan-work">
      <div class="plan-side">
        <Sign view={view} proposal={proposal} reason={reason} effects={effects} onBack={onBack} onSigned={onSigned} />
      </div>
      <div class="plan-list">
        <Sheet title="What it changes" aside={`against revision ${view.plan.revision}`}>
          <PlanChangesList groups={groups} />
        </Sheet>
        {effects === null ? (
          <Sheet title="What it would do">
            <p class="pad" role="status">
              Working out what it would do.
            </p>
          </Sheet>
        ) : (
          <Effects effects={effects} revision={revision} />
        )}
      </div>
    </Screen>
  );
}

/** Worked out after the screen stands: a long log takes a moment. */
function useEffects(view: View, { plan }: Proposal): PlanEffects | null {
  const [found, setFound] = useState<PlanEffects | null>(null);
  const { version } = view.log;
  const key = JSON.stringify(plan);
  useEffect(() => {
    setFound(null);
    if (!view.judge) return;
    const soon = setTimeout(() => setFound(planEffects(view, plan, Date.now())));
    return () => clearTimeout(soon);
  }, [view.judge, view.planHash, version, key]);
  return found;
}

interface SignProps extends Omit<Props, 'groups'> {
  /** What it would do; null until that is worked out. */
  readonly effects: PlanEffects | null;
}

function Sign({ view, proposal, reason, effects, onBack, onSigned }: Omit<SignProps, 'groups'>) {
  const { route } = useLocation();
  const { busy, problem, run } = useSaving();
  const engineers = view.standing.people().filter((p) => !p.retired && p.roles.includes('process-engineer'));
  const own = engineers.find((p) => p.id === person.value?.id);
  const [chosen, setChosen] = useState<string | null>(null);
  const [ask, setAsk] = useState<string | null>(null);
  const signer = chosen ?? own?.id ?? (engineers.length === 1 ? engineers[0]!.id : null);
  const sign = async () => {
    if (effects === null) return setAsk('Wait until it is worked out what the revision would do.');
    if (signer === null) return setAsk('Choose who signs.');
    setAsk(null);
    const { planHash, heads } = view;
    const kept = await run(async () => {
      const asShown = () => openView().planHash === planHash && openView().heads.length === heads.length;
      if (!asShown()) throw new Error('Another revision has come in since. Look at what yours would do anew');
      return signRevision(proposal.plan, proposal.parents, reason.trim(), signer);
    });
    if (!kept) return;
    await onSigned();
    route(`/plan?saved=${encodeURIComponent(proposal.plan.revision)}`);
  };
  return (
    <Sheet graduated title={`Sign revision ${proposal.plan.revision}`}>
      <div class="pad plan-form">
        <p>
          <span class="small dim">Reason</span>
          <br />
          {reason}
        </p>
        {effects && <EffectLines effects={effects} />}
        {proposal.parents.length > 1 && (
          <p class="small">It follows {proposal.parents.length} revisions, and comes into force in place of them.</p>
        )}
        <p class="small">
          Who sets a limit does not sign the independent place for that characteristic. Say to the crew that the plan
          posted in the hall has changed.
        </p>
        {engineers.length === 0 ? (
          <p>
            Nobody with the role process engineer is admitted. A keeper admits people in{' '}
            <a href="/setup?part=people">Setup</a>.
          </p>
        ) : (
          <ChoiceList
            legend="Who signs, process engineer"
            choices={engineers.map((p) => ({ value: p.id, label: p.name }))}
            value={signer}
            onChoice={setChosen}
          />
        )}
        <div class="form-end">
          {(ask ?? problem) && (
            <p class="form-error" role="alert">
              {ask ?? `Not signed: ${problem}. What you typed still stands.`}
            </p>
          )}
          <div class="buttons">
            <button type="button" class="button" onClick={onBack}>
              Back to the figures
            </button>
            {engineers.length > 0 && (
              <button type="button" class="button main" aria-busy={busy} onClick={() => void sign()}>
                {busy ? 'Saving' : 'Sign with PIN'}
              </button>
            )}
          </div>
        </div>
      </div>
    </Sheet>
  );
}
