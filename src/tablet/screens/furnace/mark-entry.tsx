import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { inCalibration } from '../../../../shared/logbook/state/instruments.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { readObserved } from '../../app/observed-at.ts';
import { settings } from '../../app/settings.ts';
import { isoWithOffset, now } from '../../app/time.ts';
import type { Draft } from '../../app/use-draft.ts';
import { useTypingAnywhere } from '../../app/use-typing-anywhere.ts';
import { Keypad } from '../../parts/keypad.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { ReadingField } from '../../parts/reading-field.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { PaperWords, PastMoment } from '../../shared-screens/past-moment.tsx';
import { WhoReads } from '../../shared-screens/who-reads.tsx';
import type { Mark, MarkDraft } from './use-mark.ts';

interface Props {
  readonly view: View;
  readonly mark: Mark;
  readonly kept: Draft<MarkDraft>;
  /** What is read, for a screen reader. */
  readonly label: string;
  readonly unit: string;
  /** Takes the keyboard when it appears and when this changes. */
  readonly focusKey: string;
  /** Turns between the ways of typing. */
  readonly turn: { readonly label: string; readonly onTurn: () => void };
  /** Where Enter goes. */
  readonly enterTarget: string;
  /** Said while nothing else is. */
  readonly hint: ComponentChildren;
}

/** Field, words, ways and keypad for a figure that is read again and again. */
export function MarkEntry({ view, mark, kept, label, unit, focusKey, turn, enterTarget, hint }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const [options, showOptions] = useState(false);
  const { observer, paper } = kept.value;
  useTypingAnywhere(() => box.current?.querySelector('input')?.focus({ preventScroll: true }), mark.enter);
  return (
    <div ref={box} class="round-entry">
      <div onInputCapture={(e) => mark.keyedAt(e.timeStamp)} onKeyDownCapture={(e) => mark.keyedAt(e.timeStamp)}>
        <ReadingField
          label={label}
          text={mark.text}
          onText={mark.type}
          onEnter={mark.enter}
          unit={unit}
          error={mark.fault ?? undefined}
          focusKey={focusKey}
        />
      </div>
      <div class="round-words" role="status">
        <MarkWords mark={mark} hint={hint} />
      </div>
      <div class="round-keys">
        <button type="button" class="button" onClick={turn.onTurn}>
          {turn.label}
        </button>
        <button type="button" class="button" onClick={() => showOptions(true)}>
          {paper ? 'From paper' : observer ? 'Read by …' : 'Who, paper'}
        </button>
      </div>
      <Keypad
        onKey={mark.press}
        onEnter={mark.enter}
        enterTarget={mark.saving ? 'saving' : enterTarget}
        mirrored={settings.value.hand === 'left'}
        decimalMark={settings.value.decimalMark}
        unsigned
      />
      {options && <Options view={view} kept={kept} onClose={() => showOptions(false)} />}
    </div>
  );
}

/** One row says what matters most. */
function MarkWords({ mark, hint }: { mark: Mark; hint: ComponentChildren }) {
  const { problem, ask, judgement, saved, instrument, text } = mark;
  if (problem)
    return (
      <p class="small error">
        <b>Not saved: {problem}</b> What you typed is still here. Press Enter again.
      </p>
    );
  if (ask) return <p class="small asked">{ask}</p>;
  if (judgement?.verdict) {
    const side = judgement.limits.upper !== null && judgement.value > (judgement.limits.nominal ?? 0) ? 'high' : 'low';
    return (
      <p class="mark-verdict small">
        <VerdictMark verdict={judgement.verdict} side={side} tag />
        {judgement.verdict === 'outside' && 'Kept, and raised as a finding at once.'}
      </p>
    );
  }
  if (text === '' && saved) return <p class="small">{saved}</p>;
  return (
    <p class="small dim">
      {hint} {instrument ? `With ${instrument.id}${outOf(instrument)}.` : 'No instrument for it is registered.'}
    </p>
  );
}

const outOf = (instrument: NonNullable<Mark['instrument']>): string =>
  inCalibration(instrument, isoWithOffset()) ? '' : ', out of calibration';

/** Who reads, and when, where it was not just now. */
function Options({ view, kept, onClose }: { view: View; kept: Draft<MarkDraft>; onClose: () => void }) {
  const { observer, paper } = kept.value;
  const { timeZone } = view.genesis;
  return (
    <Overlay title="Who reads, and when" closeLabel="Done" onClose={onClose}>
      <WhoReads
        view={view}
        legend="Who reads"
        observer={observer}
        onObserver={(who) => kept.change({ observer: who })}
      />
      <PastMoment
        label="Typed from paper"
        which="on the paper"
        timeZone={timeZone}
        moment={paper}
        onMoment={(moment) => kept.change({ paper: moment })}
      >
        <PaperWords observed={paper && readObserved(paper.date, paper.time, timeZone, now.value)} />
      </PastMoment>
    </Overlay>
  );
}
