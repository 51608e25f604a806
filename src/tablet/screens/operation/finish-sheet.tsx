import { useState } from 'preact/hooks';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { finishOperation } from '../../acts/operations.ts';
import { person } from '../../app/session.ts';
import { openView } from '../../app/tablet.ts';
import { wasKept } from '../../app/was-kept.ts';
import { askWho, rolesOf } from '../../app/who.ts';
import { Overlay } from '../../parts/overlay.tsx';

interface Props {
  readonly operation: Operation;
  readonly missing: readonly string[];
  readonly onClose: () => void;
}

/** Says why an operation cannot simply be called finished, and lets a crew lead do it all the same. */
export function FinishSheet({ operation, missing, onClose }: Props) {
  const lead = person.value?.roles.includes('crew-lead') ?? false;
  return (
    <Overlay title={`Operation ${operation.id} finished?`} onClose={onClose} closeLabel="Not yet">
      {!lead && <NoLead />}
      {missing.length > 0 && <Missing missing={missing} />}
      {lead && <Record operation={operation} missing={missing} onClose={onClose} />}
    </Overlay>
  );
}

/** A crew lead calls an operation finished; who they are in this casting. */
function NoLead() {
  const who = person.value;
  const leads = openView()
    .standing.people()
    .filter((p) => !p.retired && p.roles.includes('crew-lead'))
    .map((p) => p.name);
  return (
    <>
      <p>
        A crew lead calls an operation finished. {who ? `${who.name} is ${rolesOf(who)}.` : ''}{' '}
        {leads.length > 0
          ? `Hand the tablet to ${leads.join(' or ')}.`
          : 'Nobody of this casting is a crew lead yet: a keeper of the roster gives the role in Setup.'}
      </p>
      {leads.length > 0 && (
        <button type="button" class="button main" onClick={() => void askWho()}>
          Choose another person
        </button>
      )}
    </>
  );
}

function Missing({ missing }: { missing: readonly string[] }) {
  return (
    <div>
      <p>
        <b>Missing</b>
      </p>
      <ul class="operation-missing">
        {missing.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </div>
  );
}

function Record({ operation, missing, onClose }: Props) {
  const [words, setWords] = useState('');
  const record = async () => {
    const said = missing.length > 0 ? [`With this missing: ${missing.join('; ')}.`] : [];
    const all = [...said, ...(words.trim() ? [words.trim()] : [])].join(' ');
    if (await wasKept(finishOperation(operation.id, all || undefined))) onClose();
  };
  return (
    <>
      {missing.length > 0 && (
        <p>It can be recorded as finished all the same. What is missing is written into the entry and stays flagged.</p>
      )}
      <label class="labelled">
        <span>Words (optional)</span>
        <textarea
          class="input"
          value={words}
          maxLength={2000}
          onInput={(event) => setWords(event.currentTarget.value)}
        />
      </label>
      <button type="button" class="button main" onClick={() => void record()}>
        Record as finished
      </button>
    </>
  );
}
