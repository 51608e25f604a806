import { useState } from 'preact/hooks';
import { findingsOf } from '../../../../shared/logbook/state/findings.ts';
import { holdState } from '../../../../shared/logbook/state/holds.ts';
import { type Heat, heatOf } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { gateState } from '../../app/gate-state.ts';
import { dayAndTime } from '../../app/time.ts';
import { gateWord } from '../../parts/gate.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { FindingList } from '../../shared-screens/finding-list.tsx';

const ROUNDS_AT_FIRST = 4;

/** What the log has of one heat: its rounds, the hold points round it, its findings, and its place on the chart. */
export function HeatRecord({ view, heat }: { view: View; heat: Heat }) {
  const { plan } = heat;
  const findings = plan.operations.flatMap((id) => findingsOf(view, id));
  const holds = view.plan.holds.filter(
    (h) => plan.operations.includes(h.after) || h.before.some((id) => plan.operations.includes(id)),
  );
  return (
    <>
      <Sheet title="Rounds of the heat" beside={`${heat.walked.length} walked`}>
        <ul class="rows">
          <li>
            <a class="row" href={`/heat/chart?heat=${plan.id}`}>
              <span class="grow">
                <b>This heat on the chart</b>
                <span class="second small dim">plan, samples and rounds</span>
              </span>
            </a>
          </li>
        </ul>
        <Rounds view={view} heat={heat} />
      </Sheet>
      {holds.length > 0 && (
        <Sheet title="Hold points of the heat">
          <ul class="rows">
            {holds.map((hold) => (
              <li key={hold.id}>
                <a class="row" href={`/hold/${hold.id}`}>
                  <span class="grow">
                    <b>
                      <span class="n">{hold.id}</span> {hold.name}
                    </b>
                    <span class="second small dim">{gateWord(gateState(view, holdState(view, hold)))}</span>
                  </span>
                </a>
              </li>
            ))}
          </ul>
        </Sheet>
      )}
      <Sheet title="Findings of the heat" beside={findings.length === 0 ? 'none' : undefined}>
        {findings.length > 0 && <FindingList findings={findings} />}
      </Sheet>
    </>
  );
}

/** The newest first, as the log has them. */
function Rounds({ view, heat }: { view: View; heat: Heat }) {
  const [all, setAll] = useState(false);
  const { timeZone, dayOne } = view.genesis;
  const newest = [...heat.walked].reverse();
  return (
    <>
      <ul class="rows">
        {(all ? newest : newest.slice(0, ROUNDS_AT_FIRST)).map(({ hash, entry, body }) => (
          <li key={hash}>
            <a class="row" href={`/record/${hash}`}>
              <span class="grow">
                <b>{dayAndTime(new Date(entry.observedAt), dayOne, timeZone)}</b>
                <span class="second small dim">
                  {body.extent} round, <span class="n">{body.readings.length}</span> channels
                </span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {!all && newest.length > ROUNDS_AT_FIRST && (
        <p class="pad">
          <button type="button" class="button" onClick={() => setAll(true)}>
            Show all {newest.length} rounds
          </button>
        </p>
      )}
    </>
  );
}

/** The heats that were begun, each to go to. */
export function HeatsBegun({ view, shown }: { view: View; shown: Heat }) {
  const { timeZone, dayOne } = view.genesis;
  const heats = view.plan.heatPlans.flatMap((plan) => heatOf(view, plan) ?? []);
  if (heats.length < 2) return null;
  return (
    <Sheet title="Heats begun">
      <ul class="rows">
        {heats.map(({ plan, start_ms, ended_ms }) => (
          <li key={plan.id}>
            <a
              class="row"
              href={`/furnace?heat=${plan.id}`}
              aria-current={plan.id === shown.plan.id ? 'page' : undefined}
            >
              <span class="grow">
                <b>{plan.name}</b>
                <span class="second small dim">
                  {plan.id}, from {dayAndTime(new Date(start_ms), dayOne, timeZone)},{' '}
                  {ended_ms === null ? 'running' : 'ended'}
                  {plan.id === shown.plan.id && ', shown'}
                </span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
