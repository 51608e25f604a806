import { useState } from 'preact/hooks';
import { checkedStations } from '../../../../../shared/logbook/state/checks.ts';
import { coreCharacteristics } from '../../../../../shared/logbook/state/core-marks.ts';
import { coreSample } from '../../../../../shared/logbook/state/core-sample.ts';
import { coreAt } from '../../../../../shared/logbook/state/core-serials.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { coreByAddress, stationsByCore } from '../../../../../shared/plan/cores.ts';
import type { Characteristic, Operation } from '../../../../../shared/plan/schema.ts';
import { dayAndTime } from '../../../app/time.ts';
import { Figure } from '../../../parts/figure.tsx';
import { Sheet } from '../../../parts/sheet.tsx';
import { StationList, type StationRow } from '../../../parts/station-list.tsx';
import { shownNow } from '../shown.ts';
import { type StationItem, stationItem } from '../survey-of.ts';
import { nearestLimit } from '../verdict-sentence.ts';
import { ChangeCore } from './change-core.tsx';
import { CheckRange } from './check-range.tsx';
import { coreItems, shortName } from './core-layers.ts';
import { SerialRow } from './serial-row.tsx';

export interface CorePanelProps {
  readonly view: View;
  readonly operation: Operation;
  readonly address: string;
  /** Typed into the serial and not entered. */
  readonly serial: string;
  readonly onSerial: (text: string) => void;
  /** The next core of the walk that something is asked of; null when none is left. */
  readonly next: string | null;
  readonly onNext: (address: string) => void;
}

/** All of one core in an operation: which it is, what is measured and looked at, and the ways to change it. */
export function CorePanel(props: CorePanelProps) {
  const { view, operation, address, next, onNext } = props;
  const [open, setOpen] = useState<'check' | 'change' | null>(null);
  const [said, say] = useState<string | null>(null);
  const core = coreByAddress(view.plan, address);
  const measures = coreCharacteristics(view, operation).flatMap((c) => measureAt(view, operation, c, address) ?? []);
  const open1 = measures.find((m) => m.next !== null);
  const close = (words?: string) => {
    setOpen(null);
    say(words ?? null);
  };
  return (
    <Sheet
      class="entry-sheet core-panel"
      graduated
      title={
        <>
          Core <span class="n">{address}</span>
        </>
      }
      aside={
        core && (
          <>
            <Figure value={Math.hypot(core.x_mm, core.y_mm)} decimals={1} unit="mm" /> from the axis
          </>
        )
      }
    >
      <SerialRow
        view={view}
        operation={operation.id}
        address={address}
        text={props.serial}
        onText={props.onSerial}
        onKept={() => say(`Saved: serial of core ${address}.`)}
      />
      {said && (
        <p class="small pad saved" role="status">
          {said}
        </p>
      )}
      <div class="core-rows">
        <StationList label={`Measured at core ${address}`} size="S" rows={measures.map((m) => rowOf(operation, m))} />
        <Changes view={view} address={address} />
      </div>
      <div class="core-acts">
        <button type="button" class="button" onClick={() => setOpen('check')}>
          <span>
            Look<span class="note second">{lookedWords(view, operation, address)}</span>
          </span>
        </button>
        <button type="button" class="button" onClick={() => setOpen('change')}>
          Change the core
        </button>
        {open1 ? (
          <a class="button main" href={hrefOf(operation, open1)}>
            Measure: {shortName(open1.characteristic.name).toLowerCase()}
          </a>
        ) : next !== null ? (
          <button type="button" class="button main" onClick={() => onNext(next)}>
            Next: core {next}
          </button>
        ) : (
          <p class="small">All that is asked of the cores in {operation.id} is measured.</p>
        )}
      </div>
      {open === 'check' && <CheckRange view={view} operation={operation} address={address} onClose={close} />}
      {open === 'change' && <ChangeCore view={view} operation={operation.id} address={address} onClose={close} />}
    </Sheet>
  );
}

interface MeasureAt {
  readonly characteristic: Characteristic;
  readonly items: readonly StationItem[];
  /** The worst, or the last of those that stand. */
  readonly shown: StationItem;
  readonly done: number;
  /** The next of its stations that is asked for and not read. */
  readonly next: StationItem | null;
  /** A sample passes it over. */
  readonly passed: boolean;
}

const badness = { within: 0, 'not-proven': 1, outside: 2 } as const;

function measureAt(view: View, operation: Operation, c: Characteristic, address: string): MeasureAt | null {
  const stations = stationsByCore(view.plan, c).get(address);
  if (!stations) return null;
  const items = stations.map((station) => stationItem(view, operation.id, c, station));
  const standing = items.filter((i) => i.value !== null);
  const worst = standing.reduce<StationItem | null>(
    (a, b) => (a === null || badness[b.verdict ?? 'within'] >= badness[a.verdict ?? 'within'] ? b : a),
    null,
  );
  const sample = coreSample(view, c, operation.id);
  const passed = sample !== null && !sample.addresses.includes(address);
  const next = passed ? null : (items.find((i) => i.value === null) ?? null);
  return { characteristic: c, items, shown: worst ?? items[0]!, done: standing.length, next, passed };
}

const hrefOf = (operation: Operation, { characteristic, next, shown }: MeasureAt): string =>
  `/survey/${operation.id}/${characteristic.id}?station=${encodeURIComponent((next ?? shown).station.id)}`;

function rowOf(operation: Operation, measure: MeasureAt): StationRow {
  const { characteristic, items, shown: item, done, passed } = measure;
  const { decimals, unit, value: inUnit, limits: limitsIn, span } = shownNow(characteristic);
  const value = inUnit(item.value);
  const limits = limitsIn(item.limits);
  const { verdict } = item;
  const detail = [
    ...(items.length > 1 ? [`${done} of ${items.length}`] : []),
    ...(passed && done === 0 ? ['not in the sample'] : []),
    ...(item.value === null && (item.state?.history.length ?? 0) > 0 ? ['to be measured anew'] : []),
  ];
  return {
    key: characteristic.id,
    name: shortName(characteristic.name),
    detail: detail.join(', ') || undefined,
    reading: <Figure value={value} decimals={decimals} unit={unit} />,
    strip: { ...limits, value, guard: span(item.guard), verdict, decimals, unit },
    side: value === null ? undefined : nearestLimit({ value, limits })?.side,
    href: hrefOf(operation, measure),
  };
}

function lookedWords(view: View, operation: Operation, address: string): string {
  const items = coreItems(operation);
  const answers = items.flatMap(({ id }) => checkedStations(view, operation.id, id).get(address)?.answer ?? []);
  const noes = answers.filter((a) => a === 'no').length;
  return `${answers.length} of ${items.length} answered${noes > 0 ? `, ${noes} no` : ''}`;
}

/** The cores that stood here before. */
function Changes({ view, address }: { view: View; address: string }) {
  const { changes } = coreAt(view, address);
  if (changes.length === 0) return null;
  const { dayOne, timeZone } = view.genesis;
  return (
    <ul class="rows" aria-label={`Changes of core ${address}`}>
      {changes.map(({ hash, body, entry }) => (
        <li key={hash}>
          <a class="row" href={`/record/${hash}`}>
            <span class="grow">
              Changed for <b class="n">{body.serial}</b>
              <span class="second small dim">
                {body.reason} · {body.name} · {dayAndTime(entry.observedAt, dayOne, timeZone)}
              </span>
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}
