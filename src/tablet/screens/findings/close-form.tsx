import { useState } from 'preact/hooks';
import type { Finding } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { closeFinding } from '../../acts/findings.ts';
import { person } from '../../app/session.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { FormSheet } from './form-sheet.tsx';

interface Props {
  readonly view: View;
  readonly finding: Finding;
  readonly onEnd: () => void;
}

const empty = { words: '', closer: '' };

/** Quality has seen the work that was decided on, and closes the finding. */
export function CloseForm({ view, finding, onEnd }: Props) {
  const draft = useDraft(`closure/${finding.id}`, empty);
  const [ask, setAsk] = useState<string | null>(null);
  const quality = view.standing.people().filter((p) => !p.retired && p.roles.includes('quality'));
  const { words, closer: chosen } = draft.value;
  const closer = chosen || (quality.find((p) => p.id === person.value?.id) ?? quality[0])?.id;
  const close = async () => {
    if (words.trim() === '') return setAsk('Say what was seen.');
    if (!closer || !(await wasKept(closeFinding(finding, closer, words.trim())))) return;
    void draft.clear();
    onEnd();
  };
  if (!closer) {
    return (
      <Sheet graduated title="Close the finding">
        <div class="finding-form">
          <p>
            Quality closes findings, and nobody of this casting has that role. A keeper of the roster gives it in Setup.
          </p>
          <a class="button main" href="/setup">
            Open Setup
          </a>
        </div>
      </Sheet>
    );
  }
  return (
    <FormSheet title="Close the finding" ask={ask} done="Close and sign" onDone={() => void close()} onEnd={onEnd}>
      <label class="labelled">
        <span>What was seen</span>
        <textarea
          class="input"
          maxLength={2000}
          value={words}
          onInput={(e) => {
            setAsk(null);
            draft.change({ words: e.currentTarget.value });
          }}
        />
      </label>
      <ChoiceList
        legend="Closed by, for quality"
        choices={quality.map((p) => ({ value: p.id, label: p.name }))}
        value={closer}
        onChoice={(id) => draft.change({ closer: id })}
      />
    </FormSheet>
  );
}
