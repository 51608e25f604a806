import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Station } from '../../shared/plan/schema.ts';
import { mapPoints, type PointMapping, type PointPlaces } from '../../shared/points/map-points.ts';
import { readCell } from '../../shared/points/read-length.ts';
import { type PointTable, readTable } from '../../shared/points/read-table.ts';

const angles = Array.from({ length: 24 }, (_, i) => 7.5 + 15 * i);
const wall: Station[] = [100, 250, 380].flatMap((height_mm) =>
  angles.map((angle_deg) => ({
    id: `${angle_deg}@${height_mm}`,
    label: `${angle_deg}° at ${height_mm} mm`,
    angle_deg,
    height_mm,
  })),
);
const cores: Station[] = [
  { id: '0.1', label: 'core 0.1', x_mm: 0, y_mm: 0 },
  { id: '1.1', label: 'core 1.1', x_mm: 180, y_mm: 0 },
  { id: '1.2', label: 'core 1.2', x_mm: 90, y_mm: 155.88 },
];
const places = (stations: Station[], more: Partial<PointPlaces> = {}): PointPlaces => ({
  stations,
  read: new Set(),
  unit: 'mm',
  from: null,
  ...more,
});
const map = (text: string, where: PointPlaces, mapping: Partial<PointMapping> = {}) =>
  rowsOf(readTable(text), where, mapping);
const rowsOf = (table: PointTable, where: PointPlaces, mapping: Partial<PointMapping> = {}) =>
  mapPoints(table, { columns: 'station-value', unit: 'mm', axis: 'fit', ...mapping }, where).map((row) =>
    'fault' in row ? `${row.line} ${row.fault}` : `${row.line} ${row.station.id} ${row.value}`,
  );

describe('a table of figures', () => {
  it.each([
    ['tabs and points', '0.1\t252.1\n1.1\t252.2'],
    ['semicolons and commas, as a German workbook writes them', '0.1;252,1\r\n1.1;252,2\r\n'],
    ['commas that part columns', '0.1,252.1\n1.1,252.2'],
    ['spaces', '0.1 252.1\n1.1 252.2'],
    ['spaces and decimal commas', '0.1   252,1\n1.1   252,2'],
    ['a mark at the beginning', '\uFEFF0.1\t252.1\r1.1\t252.2\r'],
    ['heads and empty lines', 'core\ttop\n\n0.1\t252.1\n\n1.1\t252.2\n'],
    ['units behind the figures', '0.1\t252.1 mm\n1.1\t252.2mm'],
  ])('is read with %s', (_, text) => {
    expect(map(text, places(cores)).map((row) => row.replace(/^\d+ /, ''))).toEqual(['0.1 252.1', '1.1 252.2']);
  });

  it.each([['15,252\n16,253'], ['15,252 mm\n16,253'], ['top\n15,252\n16\n17,254'], ['252,1']])(
    'is not read while nobody has said what its comma is: %j',
    (text) => {
      const table = readTable(text);
      expect(table).toMatchObject({ eitherComma: true, commaOpen: true });
      const faults = mapPoints(table, { columns: 'value', unit: 'mm', axis: 'fit' }, places(cores));
      expect(new Set(faults.map((row) => 'fault' in row && row.fault))).toEqual(new Set(['which-comma']));
    },
  );

  it('has the comma that somebody says', () => {
    const text = '15,252\n16,253';
    const [decimal, parts] = [readTable(text, 'decimal'), readTable(text, 'parts')];
    expect(rowsOf(decimal, places(cores), { columns: 'value' })).toEqual(['1 0.1 15.252', '2 1.1 16.253']);
    const numbered: Station[] = [15, 16].map((n) => ({ id: `${n}`, label: `rib ${n}` }));
    expect(rowsOf(parts, places(numbered))).toEqual(['1 15 252', '2 16 253']);
  });

  it.each([
    ['a head parted by it', 'core,top\n15,252'],
    ['a decimal point beside it', '15,252.1\n16,253'],
    ['two of them in a line', '1,252,5\n2,253,5'],
    ['a sign behind it', '15,-252\n16,253'],
    ['semicolons', '15;252,1\n16;253,1'],
    ['tabs', '15\t252,1'],
    ['spaces between figures', '15 252,1\n16 253,1'],
    ['no comma at all', '15\n16'],
  ])('tells by itself what its comma is by %s', (_, text) => {
    expect(readTable(text)).toMatchObject({ eitherComma: false, commaOpen: false });
  });

  it('counts the lines of the file, empty ones too', () => {
    expect(map('core;top\n\n0.1;x\n\n\n1.1;252.2', places(cores))).toEqual(['3 not-a-number', '6 1.1 252.2']);
  });
});

describe('a cell', () => {
  it.each([
    ['252.1', 252.1, null],
    ['−0,35', -0.35, null],
    ['1 608.37 mm', 1608.37, 'mm'],
    ['63.3215"', 63.3215, 'in'],
    ['63.3215 inches', 63.3215, 'in'],
    ['12 kg', 12, 'kg'],
  ])('%s is a figure', (cell, value, unit) => {
    expect(readCell(cell)).toMatchObject({ value, unit });
  });

  it.each([
    ['', 'empty'],
    ['--', 'empty'],
    ['1.234,5', 'two-marks'],
    ['0x10', 'not-a-number'],
    ['1e3', 'not-a-number'],
    ['open', 'not-a-number'],
    ['=A1', 'not-a-number'],
    ['NaN', 'not-a-number'],
  ])('“%s” is none: %s', (cell, fault) => {
    expect(readCell(cell)).toBe(fault);
  });
});

describe('rows that go to stations', () => {
  it('names each row that is not taken, and takes the others', () => {
    const text = ['0.1\t252.1', '9.9\t252.2', '1.1\tx', '1.2\t12 kg', '1.2'].join('\n');
    expect(map(text, places(cores))).toEqual([
      '1 0.1 252.1',
      '2 unknown-station',
      '3 not-a-number',
      '4 unit',
      '5 too-few-columns',
    ]);
  });

  it('takes neither of two rows for one station, and none where a reading stands', () => {
    expect(map('0.1\t252.1\n1.1\t252.2\n0.1\t252.3', places(cores, { read: new Set(['1.1']) }))).toEqual([
      '1 doubled',
      '2 already-read',
      '3 doubled',
    ]);
  });

  it('converts inches exactly, by the choice for all or by the unit behind one', () => {
    expect(map('0.1\t1\n1.1\t25.4 mm', places(cores), { unit: 'in' })).toEqual(['1 0.1 25.4', '2 1.1 25.4']);
    expect(map('0.1\t0.2521\n', places(cores), { unit: 'm' })).toEqual(['1 0.1 252.1']);
  });

  it('knows a station by its words, its angle and height, and a gap from either side', () => {
    expect(map('7.5° at 250 mm\t1608.3', places(wall))).toEqual(['1 7.5@250 1608.3']);
    expect(map('7,5;250;1608,3\n22,5;251;1608', places(wall), { columns: 'angle-height-value' })).toEqual([
      '1 7.5@250 1608.3',
      '2 unknown-station',
    ]);
    const gaps: Station[] = [{ id: '0.1-1.1@top', label: 'core 0.1 to core 1.1, top' }];
    expect(map('1.1-0.1@top\t12.1', places(gaps))).toEqual(['1 0.1-1.1@top 12.1']);
  });

  it('goes on in a single column from the station that is worked on, past those that are read', () => {
    const where = places(cores, { from: '1.1' });
    expect(map('1\n2\n3', where, { columns: 'value' })).toEqual(['1 1.1 1', '2 1.2 2', '3 no-station-left']);
    // A row that is no figure keeps its place: what follows is not shifted.
    expect(map('1\nx\n3', places(cores), { columns: 'value' })).toEqual(['1 0.1 1', '2 not-a-number', '3 1.2 3']);
    expect(map('1', { ...where, read: new Set(['1.1']) }, { columns: 'value' })).toEqual(['1 1.2 1']);
  });
});

describe('points of a tracker', () => {
  const row = (x: number, y: number, z: number) => [x, y, z].map((v) => v.toFixed(4)).join(',');

  it('become radii about the axis that a circle through each height gives', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 40, noNaN: true }),
        fc.double({ min: -40, max: 40, noNaN: true }),
        fc.double({ min: 1500, max: 1700, noNaN: true }),
        (x0, y0, radius) => {
          const text = wall
            .map(({ angle_deg, height_mm }) => {
              const a = (angle_deg! * Math.PI) / 180;
              return row(x0 + radius * Math.cos(a), y0 + radius * Math.sin(a), height_mm! + 3);
            })
            .join('\n');
          const rows = mapPoints(readTable(text), { columns: 'xyz', unit: 'mm', axis: 'fit' }, places(wall));
          expect(rows.map((r) => ('station' in r ? r.station.id : r.fault))).toEqual(wall.map((s) => s.id));
          for (const r of rows) expect('value' in r ? r.value : 0).toBeCloseTo(radius, 2);
        },
      ),
      { seed: 8, numRuns: 12 },
    );
  });

  it('are measured from the origin of the file where the axis is given there', () => {
    const [, second] = angles as [number, number];
    const a = (second * Math.PI) / 180;
    const text = `P1,${row(1608 * Math.cos(a), 1608 * Math.sin(a), 250)}`;
    expect(map(text, places(wall), { columns: 'xyz', axis: 'origin' })).toEqual(['1 22.5@250 1608']);
    // Three points make a circle, two do not.
    expect(map(text, places(wall), { columns: 'xyz', axis: 'fit' })).toEqual(['1 no-axis']);
  });

  it('are refused where a column more is no name: nobody knows which three are meant', () => {
    const at = (...cells: (string | number)[]) => map(cells.join(','), places(cores), { columns: 'xyz' });
    expect(at(0, 0, 252.11, 0.02)).toEqual(['1 too-many-columns']);
    expect(at('P1', 0, 0, 252.11, 0.02)).toEqual(['1 too-many-columns']);
    expect(at('P1', 0, 0, 252.11)).toEqual(['1 0.1 252.11']);
    expect(at('P1', 'top', 0, 0, 252.11)).toEqual(['1 0.1 252.11']);
  });

  it('between two stations, or at another height, go to neither', () => {
    const rows = [15, 7.5].map((angle) => {
      const a = (angle * Math.PI) / 180;
      return row(1608 * Math.cos(a), 1608 * Math.sin(a), angle === 15 ? 250 : 175);
    });
    expect(map(rows.join('\n'), places(wall), { columns: 'xyz', axis: 'origin' })).toEqual([
      '1 far-from-stations',
      '2 far-from-stations',
    ]);
  });

  it('become heights at the core that lies nearest', () => {
    expect(
      map(`${row(2, -3, 252.11)}\n${row(92, 150, 252.3)}\n${row(45, 78, 252)}`, places(cores), { columns: 'xyz' }),
    ).toEqual(['1 0.1 252.11', '2 1.2 252.3', '3 far-from-stations']);
  });
});
