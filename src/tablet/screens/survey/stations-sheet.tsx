import { useState } from 'preact/hooks';
import { judge } from '../../../../shared/logbook/state/derived.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { isLate } from '../../app/observed-at.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { StationList, type StationRow } from '../../parts/station-list.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { shownNow } from './shown.ts';
import { SurveyCounts } from './survey-counts.tsx';
import { isSingle, type StationItem, type Survey } from './survey-of.ts';
import { nearestLimit } from './verdict-sentence.ts';

/** More than so many at once are slow to draw and no help to the eye. */
const MOST = 40;

/** The stations of a survey that is no wall, one under another; of hundreds those near the one worked on. */
export function StationsSheet(props: {
  view: View;
  survey: Survey;
  station: string | null;
  onChoose: (id: string) => void;
  /** For stations that are named as they come. */
  onName: ((name: string) => void) | null;
}) {
  const { survey, station, onChoose, onName } = props;
  const [sought, setSought] = useState('');
  const [more, setMore] = useState(0);
  const many = survey.items.length > MOST;
  const found = sought ? survey.items.filter((i) => matches(i, sought)) : near(survey.items, station, MOST + more);
  const rest = survey.items.length - found.length;
  return (
    <Sheet
      class="stations-sheet"
      title="Stations"
      beside={<Range {...props} />}
      aside={<SurveyCounts counts={survey.counts} />}
    >
      {many && (
        <label class="labelled pad">
          <span>Find a station</span>
          <input
            class="input"
            value={sought}
            autoComplete="off"
            onInput={(e) => setSought(e.currentTarget.value.trim())}
          />
        </label>
      )}
      {onName && <NameStation what={survey.characteristic.each!} onName={onName} />}
      {survey.items.length === 0 && (
        <div class="empty">
          <p>Each {survey.characteristic.each} is a station of its own. Name the first one, then measure it.</p>
        </div>
      )}
      <StationList
        label="Stations"
        size={survey.items.length > 12 ? 'S' : 'M'}
        rows={found.slice(0, MOST + more).map((item) => rowOf(item, survey, station, onChoose))}
      />
      {many && !sought && rest > 0 && (
        <button type="button" class="button more-stations" onClick={() => setMore(more + 2 * MOST)}>
          Show more of the other {rest}
        </button>
      )}
      {sought && found.length === 0 && <p class="small pad">No station is called that.</p>}
      {sought && found.length > MOST && (
        <p class="small pad">{found.length} stations are called like that: type more.</p>
      )}
    </Sheet>
  );
}

/** Greatest less least over all stations, where the plan limits that too. */
function Range({ view, survey: { characteristic: c, operation } }: { view: View; survey: Survey }) {
  const range = judge.range(view, c.id, operation.id);
  const { unit, decimals, span } = shownNow(c);
  return range === null ? null : (
    <span class="mean-change">
      range <Figure value={span(range.value)} decimals={decimals} unit={unit} />
      <VerdictMark verdict={range.verdict} />
    </span>
  );
}

const matches = ({ station }: StationItem, sought: string): boolean =>
  `${station.id} ${station.label}`.toLowerCase().includes(sought.toLowerCase());

/** So many stations around the one worked on. */
function near(items: readonly StationItem[], station: string | null, count: number): readonly StationItem[] {
  const at = Math.max(
    0,
    items.findIndex((i) => i.station.id === station),
  );
  const from = Math.max(0, Math.min(at - Math.floor(count / 4), items.length - count));
  return items.slice(from, from + count);
}

function rowOf(item: StationItem, survey: Survey, station: string | null, onChoose: (id: string) => void): StationRow {
  const shown = shownNow(survey.characteristic);
  const { decimals, unit } = shown;
  const { verdict, state } = item;
  const value = shown.value(item.value);
  const limits = shown.limits(item.limits);
  const guard = shown.span(item.guard);
  const last = state?.current.at(-1);
  const struck = state !== undefined && value === null;
  const detail = [
    ...(last?.body.way === 'paper' ? ['from paper'] : []),
    ...(last && isLate(last.entry.observedAt, last.entry.recordedAt) ? ['late'] : []),
    ...((state?.current.length ?? 0) > 1 ? ['two readings stand'] : []),
    ...(struck ? ['struck, to be measured again'] : []),
  ];
  return {
    key: item.station.id,
    name: isSingle(survey.characteristic) ? survey.characteristic.name : item.station.label,
    detail: detail.join(', ') || undefined,
    reading: <Figure value={value} decimals={decimals} unit={unit} />,
    strip: { value, lower: limits.lower, upper: limits.upper, nominal: limits.nominal, guard, verdict, decimals, unit },
    side: value === null ? undefined : nearestLimit({ value, limits })?.side,
    current: item.station.id === station,
    onChoose: () => onChoose(item.station.id),
  };
}

const LONGEST_NAME = 60;

function NameStation({ what, onName }: { what: string; onName: (name: string) => void }) {
  const [name, setName] = useState('');
  const [fault, setFault] = useState('');
  return (
    <form
      class="name-station pad"
      onSubmit={(event) => {
        event.preventDefault();
        if (name.trim() === '') return setFault(`Type which ${what} it is.`);
        onName(name.trim().normalize('NFC'));
        setName('');
      }}
    >
      <label class="labelled grow">
        <span>Name of the {what}</span>
        <input
          class="input"
          value={name}
          maxLength={LONGEST_NAME}
          autoComplete="off"
          onInput={(event) => {
            setFault('');
            setName(event.currentTarget.value);
          }}
        />
      </label>
      <button type="submit" class="button">
        Add
      </button>
      {fault && (
        <p class="field-error" role="alert">
          {fault}
        </p>
      )}
    </form>
  );
}
