import type { Body, Typed } from '../../../../shared/logbook/kinds.ts';
import { judgeAgain, keptLength } from '../../../../shared/logbook/state/judge-reading.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { clockTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { formatFigure } from '../../parts/format-figure.ts';
import { verdictWord } from '../../parts/verdict.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { WorkingTable } from '../../parts/working-table.tsx';
import { workedOutFrom } from './change-of.ts';
import type { TypedTemperature } from './pass-draft.ts';
import { ruling, type Survey } from './survey-of.ts';
import type { Pass } from './use-pass.ts';
import { nearestLimit } from './verdict-sentence.ts';
import { conformityCommand, deskCommand, type Worked, workingOf } from './working-of.ts';

/** The working of what is being typed, or of the reading that stands; and what else is worked out from the survey. */
export function Working({ pass }: { pass: Pass }) {
  const { view, survey, item } = pass;
  const kept = pass.draft.redo[item.station.id] || pass.text ? undefined : item.state && ruling(view, item.state)?.body;
  const worked = kept ? workedKept(view, kept, survey) : workedTyped(pass);
  return (
    <>
      {kept && <RunAgain view={view} body={kept} survey={survey} />}
      {worked ? (
        <WorkingTable
          caption={`${survey.characteristic.name}, ${item.station.label}`}
          lines={workingOf(worked)}
          foot={<Foot worked={worked} source={survey.characteristic.source} />}
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
      ...planSources(view),
      ...instrumentSources(instrument?.instrument.id ?? null),
      L: 'typed now',
      y: 'typed now',
      t_p: time(draft.part),
      t_s: time(draft.scale),
    },
  };
}

function workedKept(view: View, body: Body<'reading'>, survey: Survey): Worked {
  return {
    value: body.value,
    standardUncertainty: body.standardUncertainty,
    limits: body.limits,
    length: keptLength(view.plans.get(body.plan) ?? view.plan, body),
    unit: survey.characteristic.unit,
    sources: {
      ...planSources(view),
      ...instrumentSources(body.instrument),
      L: typedAs(body.typed),
      y: typedAs(body.typed),
      t_p: typedAs(body.conditions.part_temperature_C),
      t_s: typedAs(body.conditions.scale_temperature_C),
    },
  };
}

const typedAs = (typed: Typed | undefined): string => (typed ? `typed ${typed.text} ${typed.unit}` : 'typed');

const planSources = ({ plan }: View): Record<string, string> => ({
  α_p: `plan ${plan.revision}`,
  'u(α_p)': `plan ${plan.revision}`,
  'u(t_p)': 'plan, class ST',
  'u(t_s)': 'plan, class ST',
  'u(α_s)': 'common practice',
  lower: `plan ${plan.revision}`,
  upper: `plan ${plan.revision}`,
});

function instrumentSources(id: string | null): Record<string, string> {
  const source = id === null ? 'plan' : `register, ${id}`;
  return {
    α_s: id === null ? 'plan, its class' : source,
    'u(L)': source,
    u: id === null ? 'plan' : 'plan and register',
  };
}

function Foot({ worked, source }: { worked: Worked; source: string }) {
  return (
    <>
      {worked.length ? 'ISO 1, GUM, ISO 14253-1' : 'ISO 14253-1, JCGM 106'}. Limits: {source}. At the desk:{' '}
      <code class="desk-command">{worked.length ? deskCommand(worked.length) : conformityCommand(worked)}</code>
    </>
  );
}

/** Runs a kept reading again from its own numbers; where that gives something else, both are said. */
function RunAgain({ view, body, survey }: { view: View; body: Body<'reading'>; survey: Survey }) {
  const { decimals, unit } = survey.characteristic;
  const again = judgeAgain(view.plans.get(body.plan) ?? view.plan, body);
  const figure = (value: number) => `${formatFigure(value, { decimals })} ${unit}`;
  const same = Math.abs(again.value - body.value) < 0.5 * 10 ** -decimals && again.verdict === body.verdict;
  if (same) return <p class="note">Worked out again from what was kept: the same.</p>;
  return (
    <p class="small asked">
      Shown when it was read: {figure(body.value)}, {verdictWord(body.verdict)}. Worked out again now:{' '}
      {figure(again.value)}, {verdictWord(again.verdict)}. Both are kept; the worse rules.
    </p>
  );
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
                <Figure value={v.value} decimals={c.decimals} unit={c.unit} />
                <VerdictMark verdict={v.verdict} side={nearestLimit(v)?.side} />
              </span>
            ))}
          </li>
        ))}
      </ul>
    </section>
  );
}
