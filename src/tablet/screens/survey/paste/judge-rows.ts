import type { View } from '../../../../../shared/logbook/state/view.ts';
import type { Station } from '../../../../../shared/plan/schema.ts';
import { mapPoints, type PointMapping, type PointRow, type RowFault } from '../../../../../shared/points/map-points.ts';
import type { PointTable } from '../../../../../shared/points/read-table.ts';
import type { ReadingToKeep } from '../../../acts/readings.ts';
import type { Settings } from '../../../app/settings.ts';
import type { PassDraft } from '../pass-draft.ts';
import { type Fault, type PassInput, readingToKeep, readPass } from '../pass-input.ts';
import type { Survey } from '../survey-of.ts';
import { unlikely } from '../unlikely.ts';
import { figureOf } from '../use-pass.ts';

/** A row that will be kept, judged as if it had been typed. */
export interface TakenRow {
  readonly line: number;
  readonly input: PassInput;
}

/** A row that will not, with why. */
export interface LeftRow {
  readonly line: number;
  /** As it was pasted; in a single column with the station whose turn it was before it. */
  readonly row: readonly string[];
  readonly cells: string;
  readonly why: string;
}

export interface JudgedRows {
  readonly taken: readonly TakenRow[];
  readonly left: readonly LeftRow[];
  /** What is missing of the pass itself: then no row can be judged. */
  readonly fault: Fault | null;
}

const WHY: Readonly<Record<RowFault, string>> = {
  'unknown-station': 'no station of this survey has that name',
  'no-station-left': 'no station is left for it',
  'far-from-stations': 'it lies near no station',
  doubled: 'two rows are for one station: nobody knows which is right',
  'already-read': 'a reading stands there already: measure it again on the survey itself',
  'too-few-columns': 'it has too few columns',
  'too-many-columns': 'it has too many columns: leave only the name, x, y and z',
  'which-comma': 'say first what the comma is',
  'no-axis': 'at least three points of its height are needed to find the axis',
  empty: 'there is no figure in it',
  'not-a-number': 'it is not a figure',
  'two-marks': 'it has two decimal marks',
  unit: 'its unit is none in which this is read',
};

/** Each row through the same reading, checks and questions as a figure that is typed. */
export function judgeRows(
  view: View,
  survey: Survey,
  draft: PassDraft,
  table: PointTable,
  mapping: PointMapping,
  settings: Settings,
  now: Date,
): JudgedRows {
  const { characteristic, items } = survey;
  const byId = new Map(items.map((item) => [item.station.id, item]));
  const rows = mapPoints(table, mapping, {
    stations: items.map((i) => i.station),
    read: new Set(items.flatMap((i) => (i.value === null ? [] : [i.station.id]))),
    unit: characteristic.unit,
    from: draft.station,
  });
  // A single column is bound to its order: a row of it that stays must not slide on to the next station.
  const kept = (cells: readonly string[], station?: Station): readonly string[] =>
    mapping.columns === 'value' ? [station?.label ?? '', ...cells] : cells;
  const cellsAt = new Map(table.rows.map(({ line, cells }) => [line, cells]));
  const left: LeftRow[] = rows.flatMap((row) =>
    'fault' in row
      ? [{ line: row.line, row: kept(row.cells, row.turn), cells: row.cells.join(' · '), why: WHY[row.fault] }]
      : [],
  );
  const read = rows.flatMap((row) => ('fault' in row ? [] : [row]));
  const inputs = read.map((row): TakenRow => {
    const { text, unit } = typedOf(row, characteristic.unit);
    const id = row.station.id;
    const typed = { ...draft, station: id, texts: { [id]: text }, textUnits: { [id]: unit }, redo: {} };
    return { line: row.line, input: readPass(view, survey, byId.get(id)!, typed, settings, now) };
  });
  const fault = inputs.map((i) => i.input.fault).find((f) => f && f.at !== 'reading') ?? null;
  if (fault) return { taken: [], left, fault };
  const known = items.flatMap((i) => (i.value === null ? [] : [i.value - (i.limits.nominal ?? 0)]));
  const pasted = inputs.map(({ input }) => (input.judgement?.value ?? 0) - (input.item.inForce.nominal ?? 0));
  const taken: TakenRow[] = [];
  for (const [i, row] of inputs.entries()) {
    const { input, line } = row;
    const others = [...known, ...pasted.slice(0, i), ...pasted.slice(i + 1)];
    const why = input.fault
      ? input.fault.words
      : input.judgement
        ? unlikely(figureOf(input, others))
        : 'it cannot be judged';
    if (why === null) taken.push(row);
    else {
      const { station } = input.item;
      const row = kept(cellsAt.get(line)!, station);
      left.push({ line, row, cells: `${station.label} · ${input.text}`, why: asked(why) });
    }
  }
  return { taken, left: left.sort((a, b) => a.line - b.line), fault: null };
}

/** A question that a person answers at the station itself. */
const asked = (question: string): string =>
  question.endsWith('Enter again to keep it.')
    ? `${question.replace(' Enter again to keep it.', '')} Type it at its station if it is so.`
    : question;

/** Inches stay as they were typed; other units come in that of the survey. */
const typedOf = (row: Extract<PointRow, { text: string }>, unit: string): { text: string; unit: string } =>
  row.unit === unit || (row.unit === 'in' && unit === 'mm')
    ? { text: row.text, unit: row.unit }
    : { text: String(row.value), unit };

/** The entries of the rows that are kept, each with the line that it came from. */
export const rowsToKeep = (taken: readonly TakenRow[], recorder: string, from: string): ReadingToKeep[] =>
  taken.map(({ line, input }) => {
    const { body, ...rest } = readingToKeep(input, recorder, 'gauge');
    return { body: { ...body, words: `${from}, line ${line}` }, ...rest };
  });
