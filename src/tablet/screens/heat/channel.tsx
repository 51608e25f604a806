import { useState } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import type { WorkingLine } from '../../../../shared/calculations/calculation.ts';
import { groupName } from '../../../../shared/logbook/state/group-name.ts';
import { heatInWork } from '../../../../shared/logbook/state/rounds.ts';
import { type PairDrift, type SensorFacts, sensorFacts } from '../../../../shared/logbook/state/sensors.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById } from '../../../../shared/plan/lookup.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { WorkingTable } from '../../parts/working-table.tsx';
import { CorrectionsForm } from './corrections-form.tsx';

/** One channel: its sensor, how its pairs go apart, its corrections. */
export function ChannelScreen() {
  const view = openView();
  const { id } = useRoute().params;
  const { route } = useLocation();
  const [form, setForm] = useState(false);
  const channel = view.plan.channels.find((c) => c.id === id) ?? view.plan.channels[0]!;
  const facts = sensorFacts(view, heatInWork(view), channel);
  return (
    <Screen place="furnace" name={`Channel ${channel.id}`} operation={channel.where} work="heat-work">
      <div class="heat-hand">
        <Sheet graduated title="Channel" beside={groupName(channel.group)}>
          <div class="pad stack-small">
            <label class="labelled">
              <span>Another channel</span>
              <select
                class="input"
                value={channel.id}
                onChange={(e) => {
                  setForm(false);
                  route(`/heat/channel/${encodeURIComponent(e.currentTarget.value)}`);
                }}
              >
                {view.plan.channels.map((c) => (
                  <option key={c.id} value={c.id}>
                    {c.id} {c.where}
                  </option>
                ))}
              </select>
            </label>
            <State view={view} facts={facts} />
            <a class="button wide" href="/heat/chart">
              Chart
            </a>
          </div>
        </Sheet>
        {form ? (
          <CorrectionsForm view={view} channel={channel} onDone={() => setForm(false)} />
        ) : (
          <Sheet title="Corrections" beside={facts.calibration ? facts.calibration.line.words : 'none'}>
            <div class="pad stack-small">
              {facts.calibration && (
                <ul class="rows">
                  {facts.calibration.line.corrections!.map((c) => (
                    <li key={c.at}>
                      <span class="grow">
                        at <Figure value={c.at} decimals={0} unit="°C" />
                      </span>
                      <Figure value={c.correction} decimals={2} signed unit="K" />
                    </li>
                  ))}
                </ul>
              )}
              <p class="small dim">Rounds keep what was read. A correction is shown beside it, and changes no entry.</p>
              <button type="button" class="button wide" onClick={() => setForm(true)}>
                {facts.calibration ? 'New corrections' : 'Enter corrections'}
              </button>
            </div>
          </Sheet>
        )}
      </div>
      <div class="heat-seen">
        <Tolerance facts={facts} />
        <Pairs view={view} pairs={facts.pairs} />
      </div>
    </Screen>
  );
}

function State({ view, facts: { history, last, corrected, channel } }: { view: View; facts: SensorFacts }) {
  const { timeZone, dayOne } = view.genesis;
  if (!last) return <p>Not read yet in this heat.</p>;
  return (
    <dl class="beside">
      <div>
        <dt class="note">last read, {dayAndTime(new Date(last.at_ms), dayOne, timeZone)}</dt>
        <dd>
          <Figure value={last.value} decimals={1} unit={channel.unit} />
        </dd>
      </div>
      {corrected && 'result' in corrected && (
        <div>
          <dt class="note">{corrected.result.outside_K > 0 ? 'corrected, outside its points' : 'corrected'}</dt>
          <dd>
            <Figure value={corrected.result.corrected_C} decimals={1} unit="°C" />
          </dd>
        </div>
      )}
      <div>
        <dt class="note">state</dt>
        <dd>{history?.state}</dd>
      </div>
    </dl>
  );
}

function Tolerance({ facts: { tolerance, channel, corrected } }: { facts: SensorFacts }) {
  return (
    <Sheet title="Sensor" beside={tolerance ? `type ${channel.type}, class ${tolerance.class}` : channel.type}>
      {tolerance && 'result' in tolerance.outcome ? (
        <>
          <p class="pad">
            New, it reads within ±
            <Figure value={tolerance.outcome.result.tolerance_K} decimals={2} unit="K" /> here. Heat drifts it further.
          </p>
          <div class="pad">
            <WorkingTable caption="Working of the tolerance" lines={readable(tolerance.outcome.working)} />
          </div>
        </>
      ) : (
        <p class="pad">
          {tolerance && 'error' in tolerance.outcome
            ? `No tolerance here: the temperature ${tolerance.outcome.error.message}.`
            : 'A tolerance stands here for a thermocouple once it is read.'}
        </p>
      )}
      {corrected && 'result' in corrected && (
        <div class="pad">
          <WorkingTable caption="Working of the correction" lines={readable(corrected.working)} />
        </div>
      )}
    </Sheet>
  );
}

const DIGITS = 6;

/** Figures with the digits that a hand can check. */
const readable = (lines: readonly WorkingLine[]) =>
  lines.map((line) => ({
    ...line,
    value: typeof line.value === 'number' ? Number(line.value.toPrecision(DIGITS)) : (line.value ?? '–'),
  }));

/** Each pair's difference now and its drift over a week, held to the plan's limit where it has one. */
function Pairs({ view, pairs }: { view: View; pairs: readonly PairDrift[] }) {
  const limit = characteristicById(view.plan, 'channel-drift')?.limits[0]?.upper ?? null;
  return (
    <Sheet title="Against its pairs" beside={limit === null ? undefined : `plan: at most ${limit} K a week`}>
      {pairs.every((p) => p.differences.length === 0) ? (
        <div class="empty">
          <p>Differences stand here once both ends of a pair are read in one round.</p>
        </div>
      ) : (
        <>
          <ul class="rows">
            {pairs.map((p) => (
              <li key={p.other}>
                <span class="grow">
                  <b class="n">{p.other}</b>
                  <span class="second small dim">
                    <span class="n">{p.differences.length}</span> rounds with both
                  </span>
                </span>
                <span class="picked-values">
                  <Figure value={p.differences.at(-1)?.value ?? null} decimals={1} signed unit="K" />
                  <span class="second small">
                    <Drift pair={p} />
                  </span>
                </span>
              </li>
            ))}
          </ul>
          <p class="pad small dim">
            A difference that grows at a soak is the sensor; on a ramp, or when power moved as well, it may be the
            furnace.
          </p>
        </>
      )}
    </Sheet>
  );
}

function Drift({ pair: { drift_K_week, standardError_K_week, verdict } }: { pair: PairDrift }) {
  if (drift_K_week === null) return <>too few rounds for a drift</>;
  return (
    <>
      <Figure value={drift_K_week} decimals={2} signed />
      {standardError_K_week !== null && (
        <>
          {' '}
          ± <Figure value={standardError_K_week} decimals={2} />
        </>
      )}{' '}
      K a week {verdict && <VerdictMark verdict={verdict} />}
    </>
  );
}
