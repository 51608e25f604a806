import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Instrument } from '../../../../shared/logbook/state/instruments.ts';
import { type RecallEffect, recallEffect } from '../../../../shared/logbook/state/recall-effect.ts';
import { recallInstrument } from '../../acts/instruments.ts';
import { readObserved } from '../../app/observed-at.ts';
import { Problem } from '../../app/problem.tsx';
import { openView } from '../../app/tablet.ts';
import { clockTime, dateIn, isoWithOffset, now } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { TextField } from '../../shared-screens/fields/field.tsx';
import { lastGoodCheck } from './calibration.ts';

interface RecallTexts {
  readonly sinceDate: string;
  readonly sinceTime: string;
  readonly foundDate: string;
  readonly foundTime: string;
  readonly words: string;
}

export type RecallFormProps = {
  found: Instrument;
  onClose: () => void;
  onDone: (said: string) => void;
};

/** An instrument was found bad: in one step all that was read with it since its last good check is in question. */
export function RecallForm({ found, onClose, onDone }: RecallFormProps) {
  const view = openView();
  const { timeZone } = view.genesis;
  const start = useMemo<RecallTexts>(
    () => ({
      sinceDate: lastGoodCheck(found),
      sinceTime: '00:00',
      foundDate: dateIn(now.peek(), timeZone),
      foundTime: clockTime(now.peek(), timeZone),
      words: '',
    }),
    [found.id],
  );
  const draft = useDraft(`setup/recall/${found.id}`, start);
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  const { value, change } = draft;
  const since = readObserved(value.sinceDate, value.sinceTime, timeZone, now.value);
  const foundAt = readObserved(value.foundDate, value.foundTime, timeZone, now.value);
  const [sinceFault, foundFault] = [faultOf(since), faultOf(foundAt) ?? orderFault(since, foundAt)];
  const words = value.words.trim();
  const ready = !sinceFault && !foundFault && words !== '';
  const effect = 'at' in since ? recallEffect(view, { instrument: found.id, since: since.at.toISOString() }) : null;
  const go = async () => {
    asked.value = true;
    if (!ready || !('at' in since) || !('at' in foundAt)) return;
    const recall = {
      instrument: found.id,
      since: isoWithOffset(since.at),
      foundAt: isoWithOffset(foundAt.at),
      words,
    };
    const kept = await run(async () => {
      if (!(await someone())) return false;
      await recallInstrument(recall);
      return true;
    });
    if (!kept) return;
    await draft.clear();
    onDone(`${found.id} is out of use until it is calibrated again.`);
  };
  const field = (key: keyof RecallTexts, label: string, error?: string, date = false) => (
    <TextField label={label} date={date} text={value[key]} onText={(text) => change({ [key]: text })} error={error} />
  );
  return (
    <Overlay title={`${found.id} was found bad`} onClose={onClose} closeLabel="Cancel">
      <div class="setup-fields">
        {field('sinceDate', 'Found right last: date', sinceFault, true)}
        {field('sinceTime', 'time')}
        {field('foundDate', 'Found bad: date', foundFault, true)}
        {field('foundTime', 'time')}
        <div class="setup-wide">
          {field('words', 'What was found', asked.value && words === '' ? 'Say what was found.' : undefined)}
        </div>
      </div>
      <p role="status">
        {effect ? effectWords(effect) : 'Say since when, and it is told here what comes into question.'}
      </p>
      {problem && <Problem title="It was not kept" words={problem} safe="What you typed is kept. Try again." />}
      <div class="buttons">
        <button
          type="button"
          class={`button main ${ready ? '' : 'missing'}`}
          aria-busy={busy}
          onClick={() => void go()}
        >
          {busy ? 'Saving' : ready ? 'Put it in question' : words === '' ? 'Say what was found' : 'A time is wrong'}
        </button>
      </div>
    </Overlay>
  );
}

type Read = ReturnType<typeof readObserved>;

const faultOf = (read: Read): string | undefined => ('fault' in read ? read.fault : undefined);

const orderFault = (since: Read, foundAt: Read): string | undefined =>
  'at' in since && 'at' in foundAt && since.at >= foundAt.at ? 'It was found bad after it was found right.' : undefined;

export function effectWords({ readings, operations, holds }: RecallEffect): string {
  if (readings === 0) return 'No reading that stands was taken with it in that time.';
  const many = readings === 1 ? '1 reading comes' : `${readings} readings come`;
  const where = `${operations.length === 1 ? 'operation' : 'operations'} ${operations.join(', ')}`;
  const signed =
    holds.length === 0
      ? 'No released hold point rests on them.'
      : `Released on them, and in doubt from then on: ${holds.join(', ')}.`;
  return `${many} into question, in ${where}. ${signed} Nothing is erased: measure again, or agree a concession.`;
}
