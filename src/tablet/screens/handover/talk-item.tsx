import { useState } from 'preact/hooks';
import { QuestionForm, RefuseForm } from './question-form.tsx';
import type { Talk } from './use-talk.ts';

interface Props {
  readonly talk: Talk;
  readonly handover: string;
  readonly number: number;
  readonly of: number;
  readonly title: string;
  /** Asks who takes over where that is not known, then goes on. */
  readonly withIncoming: (go: (incoming: string) => void) => void;
}

/** The item that is talked through now, with the three things that can become of it. */
export function TalkItem({ talk, handover, number, of, title, withIncoming }: Props) {
  const [form, setForm] = useState<'question' | 'refuse' | null>(null);
  const { note, saving } = talk;
  const named = `${number} ${title}`;
  const draftKey = `talk/${handover}/${talk.current}`;
  return (
    <>
      <div class="ho-now">
        <h2>
          <span class="n">{number}</span> {title}
        </h2>
        <p class="small dim">
          {note.question ? `Asked: ${note.question}` : `item ${number} of ${of}: say it, and have it said back`}
        </p>
      </div>
      {saving.problem && <p class="form-error">{saving.problem}</p>}
      <div class="ho-three">
        <button type="button" class="button" onClick={() => setForm('refuse')}>
          Refuse item
        </button>
        <button type="button" class="button" onClick={() => setForm('question')}>
          Question
        </button>
        <button type="button" class="button main" onClick={() => withIncoming((who) => void talk.done(who))}>
          {saving.busy ? 'Saving' : 'Talked through'}
        </button>
      </div>
      {form === 'question' && (
        <QuestionForm
          title={named}
          draftKey={draftKey}
          question={note.question ?? ''}
          answer={note.answer ?? ''}
          onKeep={talk.ask}
          onClose={() => setForm(null)}
        />
      )}
      {form === 'refuse' && (
        <RefuseForm
          title={named}
          draftKey={draftKey}
          onRefuse={(reason) => withIncoming((who) => void talk.done(who, reason))}
          onClose={() => setForm(null)}
        />
      )}
    </>
  );
}
