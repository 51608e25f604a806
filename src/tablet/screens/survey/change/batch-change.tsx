import { useMemo, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import {
  asFirstRead,
  changeBetween,
  readBefore,
  type StationChange,
} from '../../../../../shared/logbook/state/change-between.ts';
import { stabilityOf } from '../../../../../shared/logbook/state/stability.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { characteristicById } from '../../../../../shared/plan/lookup.ts';
import type { Characteristic } from '../../../../../shared/plan/schema.ts';
import { Screen } from '../../../app/screen.tsx';
import { view } from '../../../app/tablet.ts';
import type { Shown } from '../../../app/units.ts';
import { Figure } from '../../../parts/figure.tsx';
import { Filter } from '../../../parts/filter.tsx';
import { Overlay } from '../../../parts/overlay.tsx';
import { Sheet } from '../../../parts/sheet.tsx';
import { CalculationWorking } from '../../../shared-screens/calculation-working.tsx';
import { shownNow } from '../shown.ts';
import './change.css';
import { type ChangeFacts, changeFacts, isStable, LEAST, runsOf } from './change-facts.ts';
import { ControlDrawing } from './control-drawing.tsx';
import { RestSheet } from './rest-sheet.tsx';
import { SpreadDrawing } from './spread-drawing.tsx';

type Order = 'address' | 'first read';

/** What a heat did to a batch: the change of each station, their spread, and whether they belong together. */
export function BatchChange() {
  const { operation = '', characteristic = '' } = useRoute().params;
  const open = view.value;
  if (!open) return null;
  const planned = characteristicById(open.plan, characteristic);
  const before = planned ? readBefore(planned, operation) : null;
  if (!planned || before === null) return <NoChange operation={operation} />;
  return <Changes view={open} characteristic={planned} before={before} after={operation} />;
}

function NoChange({ operation }: { operation: string }) {
  return (
    <Screen place="survey" name="Change">
      <div class="sheet error" role="alert">
        <b>There is nothing to compare</b>
        <p>The plan asks for this in one operation only. Nothing that was recorded is lost.</p>
      </div>
      <a class="button" href={operation ? `/sequence/${operation}` : '/survey'}>
        Back
      </a>
    </Screen>
  );
}

type ChangesProps = { view: View; characteristic: Characteristic; before: string; after: string };

function Changes({ view, characteristic, before, after }: ChangesProps) {
  const [order, setOrder] = useState<Order>('address');
  const byAddress = useMemo(
    () => changeBetween(view, characteristic, before, after),
    [view, characteristic, before, after],
  );
  const changes = useMemo(() => (order === 'address' ? byAddress : asFirstRead(byAddress)), [byAddress, order]);
  const shown = shownNow(characteristic);
  const values = changes.map((c) => shown.span(c.change));
  const facts = useMemo(() => changeFacts(values), [changes, shown.unit]);
  const rest = useMemo(() => stabilityOf(view, characteristic), [view, characteristic]);
  return (
    <Screen
      place="survey"
      name="Change"
      operation={characteristic.name}
      detail={`from operation ${before} to ${after}`}
      work="change-work"
    >
      <div class="change-bar buttons">
        <a class="button" href={`/survey/${after}/${characteristic.id}`}>
          Survey of {after}
        </a>
        <Filter
          legend="Order"
          choices={[
            { value: 'address', label: 'By address' },
            { value: 'first read', label: 'As first read' },
          ]}
          value={order}
          onChoice={setOrder}
        />
      </div>
      {facts ? (
        <Judged changes={changes} values={values} facts={facts} shown={shown} />
      ) : (
        <Sheet title="Change" graduated>
          <div class="empty">
            <p>
              {changes.length === 0 ? 'No station has been read' : `Only ${changes.length} have been read`} in both{' '}
              {before} and {after}. From {LEAST} on, their spread and their control chart stand here.
            </p>
          </div>
        </Sheet>
      )}
      {rest && <RestSheet view={view} found={rest} />}
    </Screen>
  );
}

type JudgedProps = {
  changes: readonly StationChange[];
  values: readonly number[];
  facts: ChangeFacts;
  shown: Shown;
};

function Judged({ changes, values, facts, shown }: JudgedProps) {
  const [working, setWorking] = useState<'control-chart' | 'grubbs' | null>(null);
  const input = useMemo(() => ({ values }), [values]);
  const labels = changes.map((c) => c.label);
  const figure = (value: number) => <Figure value={value} decimals={shown.decimals} unit={shown.unit} />;
  return (
    <>
      <Sheet
        title={isStable(facts) ? 'The batch is stable' : 'The batch is not stable'}
        aside="a ring: a signal"
        graduated
      >
        <div class="pad">
          <ControlDrawing values={values} labels={labels} facts={facts} decimals={shown.finest} unit={shown.unit} />
          <ul class="change-figures">
            <li>
              <span class="n">{facts.count}</span> stations
            </li>
            <li>mean {figure(facts.mean)}</li>
            <li>standard deviation {figure(facts.spread)}</li>
            <li>
              from {figure(facts.lowest)} to {figure(facts.highest)}
            </li>
          </ul>
        </div>
        <Signals changes={changes} facts={facts} figure={figure} />
      </Sheet>
      <Sheet title="How they are spread">
        <div class="pad">
          <SpreadDrawing values={values} decimals={shown.finest} unit={shown.unit} />
        </div>
      </Sheet>
      <div class="buttons">
        <button type="button" class="button" onClick={() => setWorking('control-chart')}>
          Working of the chart
        </button>
        <button type="button" class="button" onClick={() => setWorking('grubbs')}>
          Working of the outlier test
        </button>
      </div>
      {working && (
        <Overlay title="Working" onClose={() => setWorking(null)}>
          <CalculationWorking
            calculation={working}
            input={input}
            name={working === 'grubbs' ? 'the outlier test' : 'the control chart'}
          />
        </Overlay>
      )}
    </>
  );
}

type SignalsProps = {
  changes: readonly StationChange[];
  facts: ChangeFacts;
  figure: (value: number) => preact.ComponentChild;
};

/** As many rows as are shown at first, and each time that more are wanted. */
const MORE = 12;

/** The stations that do not belong to the rest, each with why; each leads to its reading. */
function Signals({ changes, facts, figure }: SignalsProps) {
  const [most, show] = useState(MORE);
  const runs = useMemo(() => runsOf(facts), [facts]);
  const count = new Set(runs.flatMap((run) => run.at)).size;
  if (count === 0)
    return <p class="pad">No change stands out from the others, in this order. Look at the other order too.</p>;
  return (
    <>
      <p class="pad">
        {count === 1 ? 'One change stands out.' : `${count} changes stand out.`} Where the chart gives a signal, all
        stations are read, not a sample.
      </p>
      <ul class="rows change-signals">
        {runs.slice(0, most).map(({ words, at }) => {
          const [first, last] = [changes[at[0]!]!, changes[at.at(-1)!]!];
          return (
            <li key={`${words}${first.station}`}>
              <a class="row" href={`/record/${first.after.hash}`}>
                <span class="grow">
                  <b>{at.length === 1 ? first.label : `${first.label} to ${last.label}`}</b>
                  <span class="second small dim">{words}</span>
                </span>
                {at.length === 1 ? figure(first.change) : <span class="n">{at.length}</span>}
              </a>
            </li>
          );
        })}
      </ul>
      {runs.length > most && (
        <button type="button" class="button change-more" onClick={() => show(most + MORE)}>
          Show more, {runs.length - most} left
        </button>
      )}
    </>
  );
}
