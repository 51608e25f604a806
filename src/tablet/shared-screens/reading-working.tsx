import type { Body } from '../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../shared/logbook/log.ts';
import { stationLabel } from '../../../shared/logbook/state/findings.ts';
import { judgeAgain } from '../../../shared/logbook/state/judge-reading.ts';
import { isRejudged, limitsOf, verdictOf } from '../../../shared/logbook/state/readings.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { characteristicById } from '../../../shared/plan/lookup.ts';
import { formatFigure } from '../parts/format-figure.ts';
import { verdictWord } from '../parts/verdict.ts';
import { WorkingTable } from '../parts/working-table.tsx';
import { limitWords } from './limit-words.ts';
import { planOf } from './plan-of.ts';
import { workedKept } from './worked-kept.ts';
import { conformityCommand, deskCommand, type Worked, workingOf } from './working-of.ts';
import './reading-working.css';

interface Props {
  readonly worked: Worked;
  readonly caption: string;
  /** The source of the limits. */
  readonly limitsFrom: string;
}

/** From what was read to the verdict, line by line, and how to work it out at a desk. */
export function ReadingWorking({ worked, caption, limitsFrom }: Props) {
  return (
    <WorkingTable
      caption={caption}
      lines={workingOf(worked)}
      foot={
        <>
          {worked.length ? 'ISO 1, GUM, ISO 14253-1' : 'ISO 14253-1, JCGM 106'}. Limits: {limitsFrom}. At the desk:{' '}
          <code class="desk-command">{worked.length ? deskCommand(worked.length) : conformityCommand(worked)}</code>
        </>
      }
    />
  );
}

/** The working of a reading in the record. */
export function KeptWorking({ view, reading }: { view: View; reading: Kept<'reading'> }) {
  const { body } = reading;
  const characteristic = characteristicById(planOf(view, body.plan), body.characteristic);
  if (!characteristic) return <p>The plan that this tablet holds has no characteristic {body.characteristic}.</p>;
  const place = body.station === 'one' ? '' : `, ${stationLabel(view, body.characteristic, body.station)}`;
  return (
    <>
      <RunAgain view={view} reading={reading} />
      <ReadingWorking
        worked={workedKept(view, body)}
        caption={`${characteristic.name}${place}`}
        limitsFrom={characteristic.source}
      />
    </>
  );
}

/** Runs a kept reading again from its own numbers; where that gives something else, both are said. */
export function RunAgain({ view, reading }: { view: View; reading: Kept<'reading'> }) {
  const { body } = reading;
  const plan = planOf(view, body.plan);
  const { decimals = 2, unit = '' } = characteristicById(plan, body.characteristic) ?? {};
  const again = judgeAgain(plan, body);
  const said = ({ value, verdict }: { value: number; verdict: Body<'reading'>['verdict'] }) =>
    `${formatFigure(value, { decimals })} ${unit}${verdict ? `, ${verdictWord(verdict)}` : ''}`;
  const same = Math.abs(again.value - body.value) < 0.5 * 10 ** -decimals && again.verdict === body.verdict;
  return (
    <>
      {same ? (
        <p class="note">Worked out again from what was kept: the same, {said(again)}.</p>
      ) : (
        <p class="small run-again">
          Shown when it was read: {said(body)}. Worked out again now: {said(again)}. Both are kept; the worse rules.
        </p>
      )}
      {isRejudged(view, reading) && (
        <p class="small run-again">
          Below: by plan revision {plan.revision}, as its reader saw it. The limits that judge it now:{' '}
          {limitWords(limitsOf(view, reading), { decimals, unit })}. By them it is{' '}
          <b>{verdictWord(verdictOf(view, reading))}</b>.
        </p>
      )}
    </>
  );
}
