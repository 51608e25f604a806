import { useRoute } from 'preact-iso';
import { SPIN_RATE, type SpinNow, spinNow, spinOperations } from '../../../../shared/furnace/spin.ts';
import { type Heat, heatOf } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById, SINGLE_STATION } from '../../../../shared/plan/lookup.ts';
import { readFigure } from '../../app/read-figure.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { formatFigure } from '../../parts/format-figure.ts';
import { LimitStrip } from '../../parts/limit-strip.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { MarkEntry } from './mark-entry.tsx';
import { SpinFindings, spinFigures } from './spin-sheet.tsx';
import { useMark, useMarkDraft } from './use-mark.ts';
import { WorkedFigures } from './worked-figures.tsx';
import './furnace.css';

const TURNS = 100;
const BY_SECONDS = 'seconds';
/** Further from what is wanted than so many tolerances is asked about once. */
const TOLERANCES = 10;
const SHOWN = 12;

/** Timing the rate of the table, and what it makes of the blank. */
export function SpinScreen() {
  const { operation = '' } = useRoute().params;
  const v = view.value;
  if (!v) return null;
  const plan = v.plan.heatPlans.find((p) => spinOperations(v.plan, p).includes(operation));
  const heat = plan ? heatOf(v, plan) : null;
  const spin = heat && spinNow(v, heat, operation);
  if (!heat || !spin)
    return (
      <Screen place="furnace" name="Spin">
        <div class="sheet empty">
          <p>
            {plan
              ? `Heat ${plan.id} has not been started: the rate is timed while it runs.`
              : `In operation ${operation} no rate is kept.`}
          </p>
          <a class="button" href="/furnace">
            Furnace
          </a>
        </div>
      </Screen>
    );
  return <Spinning view={v} heat={heat} spin={spin} />;
}

function Spinning({ view, heat, spin }: { view: View; heat: Heat; spin: SpinNow }) {
  const { name } = view.plan.operations.find((o) => o.id === spin.operation)!;
  return (
    <Screen
      place="furnace"
      name="Spin"
      operation={name}
      detail={`operation ${spin.operation} · heat ${heat.plan.id}`}
      work="furnace-work"
      keying
    >
      <div class="furnace-hand">
        <RateEntry view={view} spin={spin} />
      </div>
      <div class="furnace-seen">
        <Sheet title="Worked out" beside={`wanted ${spin.nominal ?? '–'} rpm`}>
          <SpinFindings spin={spin} />
          <WorkedFigures figures={spinFigures(view, spin)} />
        </Sheet>
        <LastRates view={view} spin={spin} />
      </div>
    </Screen>
  );
}

function RateEntry({ view, spin }: { view: View; spin: SpinNow }) {
  const { operation, lower, upper, nominal } = spin;
  const characteristic = characteristicById(view.plan, SPIN_RATE)!;
  const kept = useMarkDraft(SPIN_RATE, operation);
  const bySeconds = kept.value.mode === BY_SECONDS;
  const rpm = (value: number) => `${formatFigure(value, { decimals: 4 })} rpm`;
  const wanted = nominal ?? (lower + upper) / 2;
  const mark = useMark({
    view,
    operation,
    characteristic,
    station: SINGLE_STATION.id,
    label: 'rate',
    kept,
    read: (text) => {
      const read = readFigure(text, characteristic.unit, characteristic.unit);
      if ('fault' in read) return read;
      const { value } = read.typed;
      if (value <= 0) return { fault: 'A rate or a time is greater than nothing.' };
      if (!bySeconds) return read;
      return { typed: { text, unit: `s for ${TURNS} turns`, value: Number(((60 * TURNS) / value).toFixed(5)) } };
    },
    limited: () => true,
    doubt: (value) =>
      Math.abs(value - wanted) > (TOLERANCES * (upper - lower)) / 2
        ? `${rpm(value)} is far from ${rpm(wanted)}. Enter again to keep it.`
        : null,
    shown: rpm,
  });
  if (!kept.ready) return null;
  const { judgement } = mark;
  return (
    <Sheet
      graduated
      class="round-entry-sheet"
      title={bySeconds ? `Seconds for ${TURNS} turns` : 'Rate'}
      beside={bySeconds ? `wanted ${((60 * TURNS) / wanted).toFixed(1)} s` : `over ${TURNS} turns`}
      aside={mark.value === null || !bySeconds ? undefined : <Figure value={mark.value} decimals={4} unit="rpm" />}
    >
      <div class="pad">
        <LimitStrip
          size="M"
          label="Rate"
          value={judgement?.value ?? null}
          lower={lower}
          upper={upper}
          nominal={nominal}
          guard={judgement?.guard ?? 1.65 * (characteristic.uncertainty ?? 0)}
          verdict={judgement?.verdict ?? null}
          unit="rpm"
          decimals={4}
          decorative={judgement === null}
        />
      </div>
      <MarkEntry
        view={view}
        mark={mark}
        kept={kept}
        label={bySeconds ? `Time of ${TURNS} turns` : 'Rate of the table'}
        unit={bySeconds ? 's' : 'rpm'}
        focusKey={kept.value.mode}
        turn={{
          label: bySeconds ? 'Type rpm' : `Type s for ${TURNS} turns`,
          onTurn: () => kept.change({ mode: bySeconds ? '' : BY_SECONDS, texts: {} }),
        }}
        enterTarget="keep it"
        hint={`Once the rate stands: the run-up is not timed.`}
      />
    </Sheet>
  );
}

/** The newest rates, each a way to its entry, where a slip is struck. */
function LastRates({ view, spin }: { view: View; spin: SpinNow }) {
  const { dayOne, timeZone } = view.genesis;
  if (spin.points.length === 0)
    return (
      <Sheet title="Rates">
        <div class="empty">
          <p>The rates stand here from the first that is timed or read in a round.</p>
        </div>
      </Sheet>
    );
  return (
    <Sheet title="Rates" beside={`the last of ${spin.points.length}`}>
      <ul class="rows">
        {spin.points
          .slice(-SHOWN)
          .reverse()
          .map((p) => {
            const words = (
              <>
                <span class="grow">
                  {dayAndTime(new Date(p.at_ms), dayOne, timeZone)}
                  <span class="second small dim">{p.by === 'hand' ? 'timed by hand' : 'encoder, in a round'}</span>
                </span>
                <Figure value={p.rpm} decimals={p.by === 'hand' ? 4 : 2} unit="rpm" />
                {!p.within && <b class="outside-word">outside</b>}
              </>
            );
            return (
              <li key={`${p.at_ms} ${p.by}`}>
                {p.reading ? (
                  <a class="row" href={`/record/${p.reading.hash}`}>
                    {words}
                  </a>
                ) : (
                  words
                )}
              </li>
            );
          })}
      </ul>
    </Sheet>
  );
}
