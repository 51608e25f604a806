import { useState } from 'preact/hooks';
import type { Mend } from '../../../../shared/logbook/state/conditions.ts';
import { attest } from '../../acts/holds.ts';
import { Overlay } from '../../parts/overlay.tsx';

/** Says in words that something the hold point asks for has been seen. */
export function StatementForm({ mend, onClose }: { mend: Mend & { to: 'statement' }; onClose: () => void }) {
  const [words, setWords] = useState('');
  const [error, setError] = useState<string | null>(null);
  const save = async () => {
    if (words.trim() === '') return setError('Say in a few words what you saw, or where it is.');
    if (await attest(mend.hold, mend.requirement, words.trim())) onClose();
  };
  return (
    <Overlay title={mend.words} onClose={onClose} closeLabel="Cancel">
      <label class="labelled">
        <span>What you saw, or where it is</span>
        <textarea class="input" value={words} onInput={(e) => setWords(e.currentTarget.value)} />
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
