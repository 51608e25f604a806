import { useSignal } from '@preact/signals';
import type { Arrangement } from '../../../../shared/logbook/state/arrangements.ts';
import { endArrangement } from '../../acts/arrangements.ts';
import { Problem } from '../../app/problem.tsx';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { TextField } from '../../shared-screens/fields/field.tsx';

const nothing = { words: '' };

/** Says that all is as planned again, and how that was seen. */
export function EndForm({ arrangement }: { arrangement: Arrangement }) {
  const draft = useDraft(`arrangement-end/${arrangement.id}`, nothing);
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  const words = draft.value.words.trim();
  const keep = async () => {
    asked.value = true;
    if (!words) return;
    const kept = await run(async () => {
      if (!(await someone())) return false;
      const { operation } = arrangement.line.body;
      await endArrangement({ arrangement: arrangement.id, operation, words });
      return true;
    });
    if (kept) await draft.clear();
  };
  return (
    <div class="arrangement-form">
      <TextField
        label="What was put right, and how it was seen"
        text={draft.value.words}
        onText={(text) => draft.change({ words: text })}
        error={asked.value && !words ? 'Say what was put right.' : undefined}
      />
      {problem && <Problem title="It was not kept" words={problem} safe="What you typed is kept. Try again." />}
      <button
        type="button"
        class={`button main ${words ? '' : 'missing'}`}
        aria-busy={busy}
        onClick={() => void keep()}
      >
        {busy ? 'Saving' : 'End it'}
      </button>
    </div>
  );
}
