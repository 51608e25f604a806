import { useState } from 'preact/hooks';
import type { Disposition } from '../../../../shared/logbook/kinds.ts';
import type { Finding } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { acceptDisposition } from '../../acts/findings.ts';
import { person } from '../../app/session.ts';
import { dateIn } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { roleName } from '../../app/words.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { dispositionMeanings, mayAccept } from './accepters.ts';
import { CustomerAgreed } from './customer-agreed.tsx';
import { type DecisionDraft, decidedOf, emptyDecision } from './decision.ts';
import { FormSheet } from './form-sheet.tsx';

interface Props {
  readonly view: View;
  readonly finding: Finding;
  readonly onEnd: () => void;
}

/** What becomes of a finding: proposed by one, accepted and signed by another. Leaving keeps what was written. */
export function DecideForm({ view, finding, onEnd }: Props) {
  const draft = useDraft<DecisionDraft>(`decision/${finding.id}`, emptyDecision);
  const [ask, setAsk] = useState<string | null>(null);
  const change = (part: Partial<DecisionDraft>) => {
    setAsk(null);
    draft.change(part);
  };
  const today = dateIn(new Date(), view.genesis.timeZone);
  const value = {
    ...emptyDecision,
    ...draft.value,
    proposedBy: draft.value.proposedBy || (person.value?.id ?? ''),
  };
  const accept = async () => {
    const decided = decidedOf(value, view.standing.person(value.accepter), today);
    if ('ask' in decided) return setAsk(decided.ask);
    setAsk(null);
    if (!(await wasKept(acceptDisposition(finding, decided)))) return;
    void draft.clear();
    onEnd();
  };
  const text = (key: 'words' | 'limits', label: string) => (
    <label class="labelled">
      <span>{label}</span>
      <textarea
        class="input"
        maxLength={2000}
        value={value[key]}
        onInput={(e) => change({ [key]: e.currentTarget.value })}
      />
    </label>
  );
  return (
    <FormSheet title="What becomes of it" ask={ask} done="Accept and sign" onDone={() => void accept()} onEnd={onEnd}>
      <ChoiceList
        legend="Disposition"
        choices={dispositionMeanings.map((d) => ({ value: d.value, label: d.value, detail: d.meaning }))}
        value={value.decision === '' ? null : value.decision}
        onChoice={(decision) => change({ decision })}
      />
      {text('words', 'What is to be done, and why')}
      {value.decision === 'concession' && (
        <>
          {text('limits', 'How far the concession goes')}
          <CustomerAgreed view={view} value={value} today={today} change={change} />
        </>
      )}
      <Proposer view={view} value={value.proposedBy} choose={(proposedBy) => change({ proposedBy, accepter: '' })} />
      {value.decision !== '' && (
        <Accepter
          view={view}
          decision={value.decision}
          proposedBy={value.proposedBy}
          value={value.accepter}
          choose={(accepter) => change({ accepter })}
        />
      )}
    </FormSheet>
  );
}

const standing = (view: View) => view.standing.people().filter((p) => !p.retired);

function Proposer({ view, value, choose }: { view: View; value: string; choose: (person: string) => void }) {
  return (
    <label class="labelled">
      <span>Proposed by</span>
      <select class="input" value={value} onChange={(e) => choose(e.currentTarget.value)}>
        {standing(view).map((p) => (
          <option key={p.id} value={p.id}>
            {p.name}
          </option>
        ))}
      </select>
    </label>
  );
}

interface AccepterProps {
  readonly view: View;
  readonly decision: Disposition;
  readonly proposedBy: string;
  readonly value: string;
  readonly choose: (person: string) => void;
}

/** Those who may accept; those who may not, with the reason. */
function Accepter({ view, decision, proposedBy, value, choose }: AccepterProps) {
  const judged = standing(view).map((p) => ({ person: p, may: mayAccept(p, decision, proposedBy) }));
  const able = judged.flatMap(({ person: p, may }) =>
    'role' in may ? [{ value: p.id, label: p.name, detail: roleName(may.role) }] : [],
  );
  const unable = judged.flatMap(({ person: p, may }) => ('why' in may ? [{ person: p, why: may.why }] : []));
  return (
    <div>
      {able.length > 0 ? (
        <ChoiceList legend="Accepted by" choices={able} value={value || null} onChoice={choose} />
      ) : (
        <p class="finding-asked">
          Nobody of this casting can accept it. Who is needed is said below; a keeper admits them in Setup.
        </p>
      )}
      {unable.length > 0 && (
        <ul class="finding-cannot" aria-label="Who cannot accept it, and why">
          {unable.map(({ person: p, why }) => (
            <li key={p.id}>
              <b>{p.name}</b> cannot: {why}.
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
