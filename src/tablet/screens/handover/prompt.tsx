import { useId } from 'preact/hooks';

/** Longer answers would not leave the printed handover on one page. */
const MOST_CHARACTERS = 400;

interface Props {
  readonly label: string;
  readonly text: string;
  /** What was said at the last handover. */
  readonly before?: string | undefined;
  readonly onText: (text: string) => void;
}

/** One question to the outgoing lead. Enter goes on to the next. */
export function Prompt({ label, text, before, onText }: Props) {
  const id = useId();
  return (
    <div class="ho-prompt">
      <label class="labelled" htmlFor={id}>
        <span>{label}</span>
        <textarea
          id={id}
          class="input"
          rows={1}
          maxLength={MOST_CHARACTERS}
          enterkeyhint="next"
          value={text}
          onInput={(event) => onText(event.currentTarget.value)}
          onKeyDown={toNext}
        />
      </label>
      {before && text === '' && (
        <button type="button" class="button ho-before" onClick={() => onText(before)}>
          Still so: {before}
        </button>
      )}
    </div>
  );
}

function toNext(event: KeyboardEvent): void {
  if (event.key !== 'Enter' || event.shiftKey) return;
  event.preventDefault();
  const all = [...document.querySelectorAll<HTMLElement>('.ho-prompt textarea, .ho-act .main')];
  all[all.indexOf(event.currentTarget as HTMLElement) + 1]?.focus();
}
