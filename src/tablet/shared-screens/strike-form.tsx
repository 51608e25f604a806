import { useState } from 'preact/hooks';
import type { View } from '../../../shared/logbook/state/view.ts';
import { strike } from '../acts/strike.ts';
import { someone } from '../app/who.tsx';
import { ChoiceList } from '../parts/choice-list.tsx';
import { Overlay } from '../parts/overlay.tsx';

interface Props {
  readonly view: View;
  readonly target: string;
  readonly allowed: boolean;
  readonly onClose: () => void;
}

/** Strikes an entry out, with a reason. It stays readable. */
export function StrikeForm({ view, target, allowed, onClose }: Props) {
  const { strikeReasons, notStrikeReasons } = view.plan;
  const [reason, setReason] = useState(strikeReasons[0] ?? 'mistyped');
  const [words, setWords] = useState('');
  const go = async () => {
    if ((await someone()) && (await strike(target, reason, words.trim() || undefined))) onClose();
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
        onChoice={setReason}
      />
      <label class="labelled">
        <span>In own words (optional)</span>
        <input class="input" value={words} onInput={(e) => setWords(e.currentTarget.value)} />
      </label>
      <div class="buttons">
        <button type="button" class="button main" onClick={() => void go()}>
          Strike it out
        </button>
      </div>
    </Overlay>
  );
}
