import { useState } from 'preact/hooks';
import type { Mend } from '../../../../shared/logbook/state/conditions.ts';
import { attest } from '../../acts/holds.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { Overlay } from '../../parts/overlay.tsx';

const empty = { words: '' };

/** Says in words that something the hold point asks for has been seen. */
export function StatementForm({ mend, onClose }: { mend: Mend & { to: 'statement' }; onClose: () => void }) {
  const draft = useDraft(`statement/${mend.hold}/${mend.requirement}`, empty);
  const { words } = draft.value;
  const [error, setError] = useState<string | null>(null);
  const save = async () => {
    if (words.trim() === '') return setError('Say in a few words what you saw, or where it is.');
    if (!(await wasKept(attest(mend.hold, mend.requirement, words.trim())))) return;
    void draft.clear();
    onClose();
  };
  return (
    <Overlay title={mend.words} onClose={onClose} closeLabel="Cancel">
      <label class="labelled">
        <span>What you saw, or where it is</span>
        <textarea
          class="input"
          maxLength={2000}
          value={words}
          onInput={(e) => draft.change({ words: e.currentTarget.value })}
        />
      </label>
      <p class="outside" role="status">
        {error}
      </p>
      <div class="buttons">
        <button type="button" class="button main" onClick={() => void save()}>
          State it
        </button>
      </div>
    </Overlay>
  );
}
