import { useRef } from 'preact/hooks';
import { note } from '../../acts/notes.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useTypingAnywhere } from '../../app/use-typing-anywhere.ts';
import { wasKept } from '../../app/was-kept.ts';
import { someone } from '../../app/who.ts';
import { Sheet } from '../../parts/sheet.tsx';
import '../../shared-screens/notes.css';

const nothing = { text: '', saved: '' };
type Written = typeof nothing;

/** A start takes a moment to find what was left unsaved; whoever types at once adds to it. */
const join = (left: Written, typed: Written): Written => ({ ...typed, text: left.text + typed.text });

/**
 * Free words, always open for writing: what one sees, hears and smells belongs in the log too. It needs only the head of
 * this tablet's chain, so that it works while a long log is still being read.
 */
export function NoteLine() {
  const draft = useDraft('note/now', nothing, { join });
  const field = useRef<HTMLInputElement>(null);
  const { text, saved } = draft.value;
  useTypingAnywhere(
    () => field.current?.focus(),
    () => field.current?.focus(),
  );
  const add = async () => {
    const words = text.trim();
    if (words === '') return field.current?.focus();
    if (!(await someone())) return;
    if (await wasKept(note(words))) draft.change({ text: '', saved: words });
  };
  return (
    <Sheet title="Seen, heard, smelt">
      <form
        class="note-form"
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <label class="labelled grow">
          <span>Note</span>
          <input
            ref={field}
            class="input"
            value={text}
            autocomplete="off"
            onInput={(event) => draft.change({ text: event.currentTarget.value, saved: '' })}
          />
        </label>
        <button type="submit" class={`button ${text.trim() === '' ? 'missing' : ''}`}>
          Add note
        </button>
      </form>
      <p class="small dim note-saved" role="status">
        {saved && `Saved: ${saved}`}
      </p>
    </Sheet>
  );
}
