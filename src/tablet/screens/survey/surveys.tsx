import { judge } from '../../../../shared/logbook/state/derived.ts';
import { worst } from '../../../../shared/logbook/state/readings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { measureHref } from '../../shared-screens/measure-href.ts';
import { ALL, hasCores } from './cores/core-layers.ts';
import './survey.css';
import { SurveyCounts } from './survey-counts.tsx';
import { type ListedSurvey, type OperationSurveys, surveyGroups } from './survey-groups.ts';
import type { Counts } from './survey-of.ts';

/** All surveys by operation; what this shift can do stands first. */
export function Surveys() {
  const open = view.value;
  if (!open) return null;
  const { now, later, done } = surveyGroups(open);
  return (
    <Screen place="survey" name="Survey">
      <Group
        view={open}
        title="This shift can do"
        groups={now}
        empty="Nothing can be begun: every survey waits for other work, or is done."
        open
      />
      <Group view={open} title="Waits for other work" groups={later} empty="Nothing waits." />
      <Group view={open} title="Operation finished" groups={done} empty="No operation with a survey is finished yet." />
    </Screen>
  );
}

function Group(props: {
  view: View;
  title: string;
  groups: readonly OperationSurveys[];
  empty: string;
  open?: boolean;
}) {
  const { view, title, groups, empty, open } = props;
  if (open)
    return (
      <Sheet title={title}>
        {groups.length === 0 ? (
          <div class="empty">
            <p>{empty}</p>
            <a class="button" href="/sequence">
              To the sequence
            </a>
          </div>
        ) : (
          <Operations view={view} groups={groups} />
        )}
      </Sheet>
    );
  return (
    <details class="sheet survey-group">
      <summary>
        <h2>{title}</h2>
        <span class="small dim">{groups.length === 1 ? '1 operation' : `${groups.length} operations`}</span>
      </summary>
      {groups.length === 0 ? <p class="pad dim">{empty}</p> : <Operations view={view} groups={groups} />}
    </details>
  );
}

function Operations({ view, groups }: { view: View; groups: readonly OperationSurveys[] }) {
  return (
    <>
      {groups.map(({ state, surveys }) => (
        <section key={state.operation.id} class="survey-operation">
          <h3>
            <span class="n">{state.operation.id}</span> {state.operation.name}
          </h3>
          <ul class="rows">
            {hasCores(view, state.operation) && (
              <li>
                <a class="row" href={`/survey/${state.operation.id}/${ALL}`}>
                  <span class="grow">
                    <b>Map of the cores</b>
                    <span class="survey-detail small dim">
                      serials, all that is measured and looked at, core by core
                    </span>
                  </span>
                </a>
              </li>
            )}
            {surveys.map((survey) => (
              <li key={survey.characteristic.id}>
                <SurveyRow view={view} survey={survey} />
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

function SurveyRow({ view, survey }: { view: View; survey: ListedSurvey }) {
  const { characteristic: c, operation } = survey;
  const derived = c.kind === 'derived' ? judge.derive(view, c.id, operation.id) : null;
  const counts: Counts = derived
    ? {
        done: derived.length,
        total: survey.counts.total,
        outside: derived.filter((d) => d.verdict === 'outside').length,
        notProven: derived.filter((d) => d.verdict === 'not-proven').length,
        worst: worst(derived.map((d) => d.verdict)),
      }
    : survey.counts;
  const detail = derived ? 'worked out from readings' : how(view, survey);
  return (
    <a class="row" href={measureHref(c, operation.id)}>
      <span class="grow">
        <b>{c.name}</b>
        <span class="survey-detail small dim">{detail}</span>
      </span>
      {counts.worst === 'within' && <VerdictMark verdict="within" />}
      {counts.total === 0 ? <span class="small dim">none yet</span> : <SurveyCounts counts={counts} />}
    </a>
  );
}

/** Where and with what. */
function how(view: View, { characteristic: c }: ListedSurvey): string {
  const names = c.instruments.map(
    (id) => view.plan.instrumentClasses.find((k) => k.id === id)?.name.toLowerCase() ?? id,
  );
  const where = c.each !== undefined ? `each ${c.each}` : c.sampling.all ? '' : c.sampling.words;
  return [where, names.join(' or ') || (c.method ?? '')].filter(Boolean).join(' · ');
}
