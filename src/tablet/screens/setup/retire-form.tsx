import { useSignal } from '@preact/signals';
import { retire } from '../../acts/roster.ts';
import { Problem } from '../../app/problem.tsx';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { TextField } from '../../shared-screens/fields/field.tsx';

export type RetireFormProps = {
  what: { person: string } | { device: string } | { key: string };
  /** As it is named: a person, a tablet, or whose key on which tablet. */
  name: string;
  onClose: () => void;
  onDone: (said: string) => void;
};

/** A keeper retires a person, a tablet or a key, with a reason, and signs. */
export function RetireForm({ what, name, onClose, onDone }: RetireFormProps) {
  const draft = useDraft(`setup/retire/${Object.values(what)[0]}`, { reason: '' });
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  const reason = draft.value.reason.trim();
  const go = async () => {
    asked.value = true;
    if (reason === '') return;
    if (!(await run(() => retire(what, name, reason)))) return;
    await draft.clear();
    onDone(`${name} is retired.`);
  };
  return (
    <Overlay title={`Retire ${name}`} onClose={onClose} closeLabel="Cancel">
      <p>
        What this tablet has of {'key' in what ? 'its signatures' : 'their entries'} so far stands. What comes later, or
        turns up later from elsewhere, is kept and counts as no evidence. It cannot be taken back: who is wanted again
        is admitted again under a new {'person' in what ? 'name' : 'key'}.
      </p>
      <TextField
        label="Reason"
        text={draft.value.reason}
        onText={(text) => draft.change({ reason: text })}
        error={asked.value && reason === '' ? 'A reason is missing.' : undefined}
      />
      {problem && <Problem title="Nothing was retired" words={problem} safe="The roster is as it was. Try again." />}
      <div class="buttons">
        <button
          type="button"
          class={`button main ${reason ? '' : 'missing'}`}
          aria-busy={busy}
          onClick={() => void go()}
        >
          {busy ? 'Signing' : reason ? 'Retire with PIN' : 'Retire: the reason is missing'}
        </button>
      </div>
    </Overlay>
  );
}
