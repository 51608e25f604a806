import { GUARD_FACTOR } from '../../../../shared/logbook/state/derived-value.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { type LimitsAt, limitsAt } from '../../../../shared/plan/lookup.ts';
import type { Shown as Units } from '../../app/units.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { type WallCell, WallGrid } from '../../parts/wall-grid.tsx';
import { type Change, changeOf } from './change-of.ts';
import { shownNow } from './shown.ts';
import { SurveyCounts } from './survey-counts.tsx';
import { earlierSurvey, type StationItem, type Survey, type Wall } from './survey-of.ts';

export type Shown = 'now' | 'before' | 'change';

/** The wall unrolled; after preheat also as built, and the permanent change of each station. */
export function WallSheet(props: {
  view: View;
  survey: Survey;
  wall: Wall;
  station: string;
  shown: Shown;
  onChoose: (id: string) => void;
}) {
  const { view, survey, wall, station, onChoose } = props;
  const change = changeOf(view, survey);
  const earlier = change && earlierSurvey(view, survey);
  const shown = earlier ? props.shown : 'now';
  const cellOf = cellMaker(view, survey, shown, change, earlier);
  const current = survey.items.find((i) => i.station.id === station)?.station;
  const at = current && {
    row: wall.heights.indexOf(current.height_mm!),
    column: wall.angles.indexOf(current.angle_deg!),
  };
  const { unit, decimals } = shownNow(survey.characteristic);
  return (
    <Sheet
      class={`wall-sheet ${unit === 'in' ? 'wall-fine' : ''}`}
      title={TITLES[shown]}
      beside={<Beside shown={shown} survey={survey} change={change} />}
      aside={shown === 'now' && <SurveyCounts counts={survey.counts} />}
    >
      <WallGrid
        label={TITLES[shown]}
        columns={wall.angles.map((angle) => `${angle}°`)}
        rows={wall.heights.map(String)}
        rowUnit="mm"
        unit={unit}
        decimals={decimals}
        cells={wall.heights.map((height) => wall.angles.map((angle) => cellOf(wall.at(height, angle))))}
        current={at ?? null}
        onChoose={(row, column) => {
          const chosen = wall.at(wall.heights[row]!, wall.angles[column]!);
          if (chosen) onChoose(chosen.station.id);
        }}
      />
    </Sheet>
  );
}

/** What the wall shows, where an earlier survey stands beside this one. */
export function WallSwitch(props: { view: View; survey: Survey; shown: Shown; onShow: (shown: Shown) => void }) {
  const { view, survey, shown, onShow } = props;
  const earlier = changeOf(view, survey) && earlierSurvey(view, survey);
  if (!earlier) return null;
  const words: Readonly<Record<Shown, string>> = {
    now: `Now, ${survey.operation.id}`,
    before: `As built, ${earlier.operation.id}`,
    change: 'Change',
  };
  return (
    <fieldset class="wall-switch">
      <legend class="hidden-text">What the wall shows</legend>
      {(['now', 'before', 'change'] as const).map((value) => (
        <label key={value}>
          <input type="radio" name="wall" checked={shown === value} onChange={() => onShow(value)} />
          {words[value]}
        </label>
      ))}
    </fieldset>
  );
}

const TITLES: Readonly<Record<Shown, string>> = {
  now: 'Wall, unrolled',
  before: 'Wall as built',
  change: 'Permanent change',
};

function Beside({ shown, survey, change }: { shown: Shown; survey: Survey; change: Change | null }) {
  const { at20 } = survey.characteristic;
  const { decimals, unit, value } = shownNow(survey.characteristic);
  if (shown === 'change') return <MeanChange change={change!} />;
  const nominal = survey.items[0]?.limits.nominal ?? null;
  return nominal === null ? null : (
    <>
      from <Figure value={value(nominal)} decimals={decimals} unit={unit} />
      {at20 && ' at 20 °C'}
    </>
  );
}

function MeanChange({ change }: { change: Change }) {
  const mean = change.mean?.values[0];
  if (!change.mean) return null;
  if (!mean) return <>mean when all stations of both surveys are measured</>;
  const { unit, decimals, value } = shownNow(change.mean.characteristic);
  return (
    <span class="mean-change">
      mean <Figure value={value(mean.value)} decimals={decimals} unit={unit} signed />
      <VerdictMark verdict={mean.verdict} side={mean.value < 0 ? 'low' : 'high'} />
    </span>
  );
}

/** How a station is drawn for what is shown: its own reading, the earlier one, or the change between them. */
function cellMaker(
  view: View,
  { operation, characteristic: measured }: Survey,
  shown: Shown,
  change: Change | null,
  earlier: Survey | null,
): (item?: StationItem) => WallCell {
  if (shown === 'change' && change) {
    const { characteristic, values } = change.byStation;
    const units = shownNow(characteristic);
    const changes = new Map(values.map((v) => [v.station, v]));
    return (item) => {
      const id = item?.station.id ?? '';
      const value = changes.get(id);
      const { nominal, lower, upper } = units.limits(limitsAt(view.plan, characteristic.id, operation.id, id));
      return {
        value: units.value(value?.value ?? null),
        verdict: value?.verdict ?? null,
        nominal: nominal ?? 0,
        lower,
        upper,
        guard: units.span(GUARD_FACTOR * (value?.standardUncertainty ?? characteristic.uncertainty ?? 0)),
      };
    };
  }
  const before = new Map(earlier?.items.map((i) => [i.station.id, i]));
  const units = shownNow(measured);
  return (item) => ownCell(units, shown === 'before' ? before.get(item?.station.id ?? '') : item);
}

const NO_LIMITS: LimitsAt = { nominal: null, lower: null, upper: null };

function ownCell(units: Units, item: StationItem | undefined): WallCell {
  const { nominal, lower, upper } = units.limits(item?.limits ?? NO_LIMITS);
  return {
    value: units.value(item?.value ?? null),
    verdict: item?.verdict ?? null,
    lower,
    upper,
    nominal: nominal ?? 0,
    guard: units.span(item?.guard ?? 0),
  };
}
