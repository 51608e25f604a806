import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Characteristic } from '../../../../shared/plan/schema.ts';
import { clockTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { ReadingWorking, RunAgain } from '../../shared-screens/reading-working.tsx';
import { instrumentSources, planSources, workedKept } from '../../shared-screens/worked-kept.ts';
import type { Worked } from '../../shared-screens/working-of.ts';
import { workedOutFrom } from './change-of.ts';
import type { TypedTemperature } from './pass-draft.ts';
import { shownNow } from './shown.ts';
import { ruling, type Survey } from './survey-of.ts';
import type { Pass } from './use-pass.ts';
import { nearestLimit } from './verdict-sentence.ts';

/** The working of what is being typed, or of the reading that stands; and what else is worked out from the survey. */
export function Working({ pass }: { pass: Pass }) {
  const { view, survey, item } = pass;
  const kept = pass.draft.redo[item.station.id] || pass.text ? undefined : item.state && ruling(view, item.state);
  const worked = kept ? workedKept(view, kept.body) : workedTyped(pass);
  return (
    <>
      {shownNow(survey.characteristic).unit !== survey.characteristic.unit && (
        <p class="note">The working is in mm and °C, as the calculation is defined.</p>
      )}
      {kept && <RunAgain view={view} reading={kept} />}
      {worked ? (
        <ReadingWorking
          worked={worked}
          caption={`${survey.characteristic.name}, ${item.station.label}`}
          limitsFrom={survey.characteristic.source}
        />
      ) : (
        <p class="small dim">
          The working stands here when the figure is typed{survey.characteristic.at20 && ', with its two temperatures'}.
        </p>
      )}
      <FromSurvey view={view} survey={survey} />
    </>
  );
}

function workedTyped(pass: Pass): Worked | null {
  const { judgement, survey, instrument, draft, view } = pass;
  if (!judgement) return null;
  const time = (typed: TypedTemperature | null) =>
    typed
      ? `typed ${typed.unit === '°C' ? '' : `${typed.text} ${typed.unit}, `}${clockTime(typed.at, view.genesis.timeZone)}`
      : 'typed';
  return {
    ...judgement,
    unit: survey.characteristic.unit,
    sources: {
      ...planSources(view.plan),
      ...instrumentSources(
        instrument?.instrument.id ?? null,
        judgement.length?.u_length_mm ?? judgement.standardUncertainty,
        survey.characteristic.uncertainty,
      ),
      L: 'typed now',
      y: 'typed now',
      t_p: time(draft.part),
      t_s: time(draft.scale),
    },
  };
}

/** Roundness, change and the like, which follow from these readings. */
function FromSurvey({ view, survey }: { view: View; survey: Survey }) {
  const derived = workedOutFrom(view, survey).filter(
    (w) => w.characteristic.stations !== survey.characteristic.stations,
  );
  if (derived.length === 0) return null;
  const label = (set: string | null, id: string) =>
    (set && view.plan.stationSets[set]?.find((s) => s.id === id)?.label) || 'all stations';
  return (
    <section class="from-survey">
      <h3>Worked out from this survey</h3>
      <ul>
        {derived.map(({ characteristic: c, values }) => (
          <li key={c.id}>
            <span class="small">{c.name}</span>
            {values.length === 0 && <span class="small dim">when every station is measured</span>}
            {values.map((v) => (
              <span key={v.station} class="from-value">
                {values.length > 1 && <span class="note">{label(c.stations, v.station)}</span>}
                <Derived value={v.value} characteristic={c} />
                <VerdictMark verdict={v.verdict} side={nearestLimit(v)?.side} />
              </span>
            ))}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Derived({ value, characteristic }: { value: number; characteristic: Characteristic }) {
  const shown = shownNow(characteristic);
  return <Figure value={shown.value(value)} decimals={shown.decimals} unit={shown.unit} />;
}
