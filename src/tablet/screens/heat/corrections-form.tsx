import { useState } from 'preact/hooks';
import { instrument } from '../../../../shared/logbook/state/instruments.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Channel } from '../../../../shared/plan/schema.ts';
import { registerInstrument } from '../../acts/instruments.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { type CorrectionTexts, readCorrections } from './corrections-draft.ts';

const EMPTY: CorrectionTexts = { lines: '', calibratedOn: '', certificate: '' };

/** A sensor's corrections, point by point, into the register under the channel's name. */
export function CorrectionsForm({ view, channel, onDone }: { view: View; channel: Channel; onDone: () => void }) {
  const draft = useDraft<CorrectionTexts>(`corrections/${channel.id}`, EMPTY);
  const [ask, setAsk] = useState<string | null>(null);
  const { busy, problem, run } = useSaving();
  if (!draft.ready) return null;
  const texts = draft.value;
  const keep = () =>
    run(async () => {
      const said = readCorrections(texts);
      if ('ask' in said) {
        setAsk(said.ask);
        return false;
      }
      setAsk(null);
      if (!(await someone())) return false;
      const before = instrument(view, channel.id)?.line;
      const sort = view.plan.instrumentClasses.find((c) => c.id === `T${channel.type}`);
      await registerInstrument({
        instrument: channel.id,
        class: before?.class ?? sort?.id ?? channel.type,
        name: before?.name ?? `sensor of ${channel.id}`,
        unit: before?.unit ?? 'K',
        standardUncertainty: before?.standardUncertainty ?? sort?.standardUncertainty ?? 0,
        expansion_per_K: null,
        calibratedOn: said.calibratedOn,
        // New for each casting: it is not calibrated again while it is built in.
        calibrationDue: `${Number(said.calibratedOn.slice(0, 4)) + 1}${said.calibratedOn.slice(4).replace('-02-29', '-02-28')}`,
        corrections: said.corrections,
        words: said.words,
      });
      await draft.clear();
      onDone();
      return true;
    });
  return (
    <Sheet title={`Corrections of ${channel.id}`}>
      <div class="pad stack-small">
        <label class="labelled">
          <span>A line a point: temperature in °C, a blank, correction in K</span>
          <textarea
            class="input"
            value={texts.lines}
            placeholder={'500 −0.4\n600 −0.9'}
            onInput={(e) => draft.change({ lines: e.currentTarget.value })}
          />
        </label>
        <label class="labelled">
          <span>Calibrated on</span>
          <input
            class="input"
            type="date"
            value={texts.calibratedOn}
            onInput={(e) => draft.change({ calibratedOn: e.currentTarget.value })}
          />
        </label>
        <label class="labelled">
          <span>Certificate</span>
          <input
            class="input"
            value={texts.certificate}
            maxLength={200}
            autocomplete="off"
            onInput={(e) => draft.change({ certificate: e.currentTarget.value })}
          />
        </label>
        {(ask ?? problem) && (
          <p class="field-error" role="alert">
            {ask ?? problem}
          </p>
        )}
        <div class="buttons">
          <button type="button" class="button" onClick={onDone}>
            Leave it
          </button>
          <button type="button" class="button main" aria-busy={busy} onClick={() => void keep()}>
            Keep them
          </button>
        </div>
      </div>
    </Sheet>
  );
}
