import { useState } from 'preact/hooks';
import { useDraft } from '../../app/use-draft.ts';
import { Overlay } from '../../parts/overlay.tsx';

const MOST_CHARACTERS = 400;

interface FormProps {
  /** The item that it is about. */
  readonly title: string;
  /** Under which it is kept on this tablet while it is typed. */
  readonly draftKey: string;
  readonly onClose: () => void;
}

interface QuestionProps extends FormProps {
  readonly question: string;
  readonly answer: string;
  readonly onKeep: (question: string, answer: string) => void;
}

/** A question that came up in the talk, and what was answered. */
export function QuestionForm({ title, draftKey, question, answer, onKeep, onClose }: QuestionProps) {
  const draft = useDraft(`${draftKey}/question`, { question, answer });
  const [problem, setProblem] = useState<string | null>(null);
  const keep = () => {
    const said = draft.latest();
    if (said.question.trim() === '' && said.answer.trim() !== '') return setProblem('Write down the question as well.');
    onKeep(said.question.trim(), said.answer.trim());
    void draft.clear();
    onClose();
  };
  return (
    <Overlay title={title} onClose={onClose} closeLabel="Cancel">
      <Words label="What was asked" text={draft.value.question} onText={(text) => draft.change({ question: text })} />
      <Words label="What was answered" text={draft.value.answer} onText={(text) => draft.change({ answer: text })} />
      <Problem words={problem} />
      <button type="button" class="button main wide" onClick={keep}>
        Note the question
      </button>
    </Overlay>
  );
}

/** Why an item is not taken over as it stands. */
export function RefuseForm({ title, draftKey, onRefuse, onClose }: FormProps & { onRefuse: (reason: string) => void }) {
  const draft = useDraft(`${draftKey}/refusal`, { reason: '' });
  const [problem, setProblem] = useState<string | null>(null);
  const keep = () => {
    const reason = draft.latest().reason.trim();
    if (reason === '') return setProblem('A refusal needs its reason: the outgoing lead mends that.');
    onRefuse(reason);
    void draft.clear();
    onClose();
  };
  return (
    <Overlay title={title} onClose={onClose} closeLabel="Cancel">
      <Words label="Why it is not taken over" text={draft.value.reason} onText={(reason) => draft.change({ reason })} />
      <Problem words={problem} />
      <button type="button" class="button main wide" onClick={keep}>
        Refuse the item
      </button>
    </Overlay>
  );
}

function Problem({ words }: { words: string | null }) {
  return (
    <p class="outside" role="status">
      {words}
    </p>
  );
}

function Words({ label, text, onText }: { label: string; text: string; onText: (text: string) => void }) {
  return (
    <label class="labelled">
      <span>{label}</span>
      <textarea
        class="input"
        maxLength={MOST_CHARACTERS}
        value={text}
        onInput={(event) => onText(event.currentTarget.value)}
      />
    </label>
  );
}
