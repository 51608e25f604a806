import { describe, expect, it } from 'vitest';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Columns, PointMapping } from '../../shared/points/map-points.ts';
import { readTable } from '../../shared/points/read-table.ts';
import type { Settings } from '../../src/tablet/app/settings.ts';
import type { PassDraft } from '../../src/tablet/screens/survey/pass-draft.ts';
import { type JudgedRows, judgeRows } from '../../src/tablet/screens/survey/paste/judge-rows.ts';
import { NOTHING_PASTED, type Pasted, savedWords, stays } from '../../src/tablet/screens/survey/paste/pasted.ts';
import { surveyOf } from '../../src/tablet/screens/survey/survey-of.ts';
import { type TestTablet, tablets } from '../logbook/world.ts';

const settings: Settings = {
  theme: 'hall',
  hand: 'right',
  decimalMark: '.',
  lengthUnit: 'mm',
  temperatureUnit: '°C',
  dueSound: 'off',
};
const pass: PassDraft = {
  station: null,
  texts: {},
  textUnits: {},
  redo: {},
  reason: 'mistyped',
  reasonWords: '',
  part: null,
  scale: null,
  instrument: null,
  observer: null,
  paper: null,
  named: [],
};
const [tablet] = tablets(['A'], buildPlan(practiceDesign)) as [TestTablet];
const view = tablet.view();
const survey = surveyOf(view, '7.2', 'core-top-height')!;
const stations = survey.items.map((item) => item.station);
const good = survey.items[0]!.inForce.nominal!.toFixed(2);
const mappingOf = (columns: Columns): PointMapping => ({ columns, unit: 'mm', axis: 'fit' });

const judge = (pasted: Pasted, columns: Columns): JudgedRows =>
  judgeRows(view, survey, pass, readTable(pasted.text, pasted.comma), mappingOf(columns), settings, new Date(0));
const pastedOf = (lines: string[]): Pasted => ({ ...NOTHING_PASTED, text: lines.join('\n'), from: 'tops.csv' });
const [a, b, c] = stations.map((s) => s.id) as [string, string, string];

describe('what stays of what was pasted', () => {
  it('is each row that was not taken, on the line on which it stood, and is read the same again', () => {
    const pasted = pastedOf([
      'core;top',
      `${a};${good}`,
      `${b};cracked`,
      '',
      `${c};${good.replace('.', '')}`,
      '9.9;1,5',
    ]);
    const saved = judge(pasted, 'station-value');
    expect(saved.taken.map((row) => row.line)).toEqual([2]);
    expect(savedWords(saved, 'tops')).toBe('Saved: 1 reading of tops; 3 rows not taken, kept in “Paste or file”');
    const rest = stays(pasted, mappingOf('station-value'), saved)!;
    expect(rest).toMatchObject({ from: 'tops.csv', columns: 'station-value', unit: 'mm' });
    const again = judge(rest, 'station-value');
    expect(again.taken).toEqual([]);
    expect(again.left).toEqual(saved.left);
    expect(again.left.map((row) => row.line)).toEqual([3, 5, 6]);
  });

  it('is nothing where all were taken', () => {
    const pasted = pastedOf([`${a}\t${good}`, `${b}\t${good}`]);
    const saved = judge(pasted, 'station-value');
    expect(savedWords(saved, 'tops')).toBe('Saved: 2 readings of tops');
    expect(stays(pasted, mappingOf('station-value'), saved)).toBeNull();
  });

  it('does not slide on to the next station in a single column', () => {
    const pasted = pastedOf([good, 'cracked', '12 kg', good]);
    const saved = judge(pasted, 'value');
    expect(saved.taken.map(({ input }) => input.item.station.id)).toEqual([a, stations[3]!.id]);
    const rest = stays(pasted, mappingOf('value'), saved)!;
    expect(rest.columns).toBe('station-value');
    // Put right by hand, they go where they were meant to go.
    const mended = { ...rest, text: rest.text.replace('cracked', good).replace('12 kg', good) };
    expect(judge(mended, 'station-value').taken.map(({ line, input }) => [line, input.item.station.id])).toEqual([
      [2, b],
      [3, c],
    ]);
  });

  it('keeps a quotation mark that stands for inches', () => {
    const pasted = pastedOf([`${a}\t${good}`, `9.9\t"9.92"""`]);
    const rest = stays(pasted, mappingOf('station-value'), judge(pasted, 'station-value'))!;
    expect(readTable(rest.text).rows).toEqual([{ line: 2, cells: ['9.9', '9.92"'] }]);
  });
});

describe('a comma that can be either', () => {
  it('lets no row be taken until somebody has said which it is', () => {
    const pasted = pastedOf(['252,1', '252,2']);
    const open = judge(pasted, 'value');
    expect(open.taken).toEqual([]);
    expect(open.left.map((row) => row.why)).toEqual(['say first what the comma is', 'say first what the comma is']);
    const table = readTable(pasted.text, 'decimal');
    expect(table.rows.map((row) => row.cells)).toEqual([['252,1'], ['252,2']]);
  });
});
