import type { View } from '../../../shared/logbook/state/view.ts';
import { strike } from '../acts/strike.ts';
import { useDraft } from '../app/use-draft.ts';
import { wasKept } from '../app/was-kept.ts';
import { someone } from '../app/who.ts';
import { ChoiceList } from '../parts/choice-list.tsx';
import { Overlay } from '../parts/overlay.tsx';

interface Props {
  readonly view: View;
  readonly target: string;
  readonly allowed: boolean;
  readonly onClose: () => void;
}

const empty = { reason: '', words: '' };

/** Strikes an entry out, with a reason. It stays readable. */
export function StrikeForm({ view, target, allowed, onClose }: Props) {
  const { strikeReasons, notStrikeReasons } = view.plan;
  const draft = useDraft(`strike/${target}`, empty);
  const { words } = draft.value;
  const reason = draft.value.reason || (strikeReasons[0] ?? 'mistyped');
  const go = async () => {
    if (!(await someone()) || !(await wasKept(strike(target, reason, words.trim() || undefined)))) return;
    void draft.clear();
    onClose();
  };
  if (!allowed) {
    return (
      <Overlay title="Strike it out" onClose={onClose}>
        <p>
          Its writer or observer may strike it, and a crew lead, the process engineer or quality. Hand the tablet to one
          of them: tap the clock.
        </p>
      </Overlay>
    );
  }
  return (
    <Overlay title="Strike it out" onClose={onClose} closeLabel="Cancel">
      <p class="small">
        It stays readable, with your name, the time and the reason. No reason is: {notStrikeReasons.join('; ')}.
      </p>
      <ChoiceList
        legend="Reason"
        choices={strikeReasons.map((r) => ({ value: r, label: r }))}
        value={reason}
        onChoice={(chosen) => draft.change({ reason: chosen })}
      />
      <label class="labelled">
        <span>In own words (optional)</span>
        <input
          class="input"
          maxLength={2000}
          value={words}
          onInput={(e) => draft.change({ words: e.currentTarget.value })}
        />
      </label>
      <div class="buttons">
        <button type="button" class="button main" onClick={() => void go()}>
          Strike it out
        </button>
      </div>
    </Overlay>
  );
}
