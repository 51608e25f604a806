import { useRef } from 'preact/hooks';
import type { Photo } from '../../../shared/logbook/kinds.ts';
import { byTime } from '../../../shared/logbook/state/readings.ts';
import { live } from '../../../shared/logbook/state/strikes.ts';
import { anyKind, type View } from '../../../shared/logbook/state/view.ts';
import { noteAbout } from '../acts/notes.ts';
import { useDraft } from '../app/use-draft.ts';
import { wasKept } from '../app/was-kept.ts';
import { someone } from '../app/who.ts';
import { Sheet } from '../parts/sheet.tsx';
import { PhotoField } from './photos/photo-field.tsx';
import { PhotoStrip } from './photos/photo-strip.tsx';
import { shotsOf } from './photos/shots.ts';
import { SaidBy } from './said-by.tsx';
import { StrikeButton } from './strike-button.tsx';

import './notes.css';

type About = { readonly operation: string } | { readonly finding: string };

const nothing: { text: string; photos: readonly Photo[] } = { text: '', photos: [] };

/** Free words on an operation or a finding, newest first. */
export function Notes({ view, about }: { view: View; about: About }) {
  const subject = 'operation' in about ? about.operation : about.finding;
  const notes = live(view, `note/${subject}`, 'note').sort(byTime).reverse();
  const draft = useDraft(`note/${subject}`, nothing);
  const field = useRef<HTMLTextAreaElement>(null);
  const { text, photos } = draft.value;
  const add = async () => {
    if (text.trim() === '') return field.current?.focus();
    if (!(await someone())) return;
    if (await wasKept(noteAbout(about, text.trim(), draft.latest().photos))) void draft.clear();
  };
  return (
    <Sheet title="Notes" aside={notes.length > 0 ? notes.length : undefined}>
      <form
        class="note-form"
        id="notes"
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <label class="labelled grow">
          <span>New note</span>
          <textarea
            ref={field}
            class="input"
            rows={1}
            value={text}
            onInput={(event) => draft.change({ text: event.currentTarget.value })}
          />
        </label>
        <button type="submit" class={`button ${text.trim() === '' ? 'missing' : ''}`}>
          Add note
        </button>
      </form>
      <div class="pad note-photos">
        <PhotoField photos={photos} draft={draft} />
      </div>
      <ul class="rows">
        {notes.map((note) => (
          <li key={note.hash}>
            <div class="grow">
              <p>
                {note.body.text}
                <SaidBy view={view} kept={anyKind(note)} />
              </p>
              <PhotoStrip view={view} shots={shotsOf(view, [anyKind(note)])} label="Photos of this note" />
            </div>
            <StrikeButton view={view} kept={anyKind(note)} what="this note" />
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
