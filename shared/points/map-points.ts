import { RefusedInput } from '../calculations/calculation.ts';
import { circleFit } from '../calculations/circle-fit.ts';
import type { Station } from '../plan/schema.ts';
import { type CellFault, type CellFigure, MM, readCell } from './read-length.ts';
import type { PointTable } from './read-table.ts';

/** What the columns of a table are. */
export type Columns = 'value' | 'station-value' | 'angle-height-value' | 'xyz';

export interface PointMapping {
  readonly columns: Columns;
  /** Unit of figures that have none behind them. */
  readonly unit: string;
  /** Where the axis of the points is: found by a circle through each height, or at the origin of the file. */
  readonly axis: 'fit' | 'origin';
}

/** Where the points may go. */
export interface PointPlaces {
  /** In the order in which they are read. */
  readonly stations: readonly Station[];
  /** Those at which a reading stands already. */
  readonly read: ReadonlySet<string>;
  /** The unit of the characteristic. */
  readonly unit: string;
  /** The station with which a single column begins. */
  readonly from: string | null;
}

/** Why a row is not taken. */
export type RowFault =
  | 'unknown-station'
  | 'no-station-left'
  | 'far-from-stations'
  | 'doubled'
  | 'already-read'
  | 'too-few-columns'
  | 'too-many-columns'
  | 'which-comma'
  | 'no-axis'
  | CellFault;

export type PointRow =
  | {
      readonly line: number;
      readonly station: Station;
      readonly text: string;
      readonly unit: string;
      readonly value: number;
    }
  | {
      readonly line: number;
      readonly cells: readonly string[];
      readonly fault: RowFault;
      /** The station whose turn it was, in a single column. */
      readonly turn?: Station;
    };

/** A point further than this share of the way to the next station is of neither. */
const NEAR = 0.35;

/** Each row of a table with the station that it goes to and its value in the characteristic's unit, or why it is not taken. */
export function mapPoints(table: PointTable, mapping: PointMapping, places: PointPlaces): PointRow[] {
  if (table.commaOpen) return table.rows.map((row) => ({ ...row, fault: 'which-comma' }));
  const found = mapping.columns === 'xyz' ? byPlace(table, mapping, places) : byName(table, mapping, places);
  const cellsAt = new Map(table.rows.map(({ line, cells }) => [line, cells]));
  const count = new Map<string, number>();
  for (const row of found) if ('station' in row) count.set(row.station.id, (count.get(row.station.id) ?? 0) + 1);
  return found.map((row) => {
    if ('fault' in row) return row;
    const { id } = row.station;
    const cells = cellsAt.get(row.line)!;
    // Of two rows for one station nobody knows which is right: neither is taken.
    if (count.get(id)! > 1) return { line: row.line, cells, fault: 'doubled' };
    if (places.read.has(id)) return { line: row.line, cells, fault: 'already-read' };
    return row;
  });
}

/** The figure in the characteristic's unit, or that its unit is no unit of it. */
function inUnit(figure: CellFigure, unit: string, wanted: string): number | 'unit' {
  const from = figure.unit ?? unit;
  if (from === wanted) return figure.value;
  const [a, b] = [MM[from], MM[wanted]];
  // Fifteen digits: what an inch is in mm carries no noise of binary fractions.
  return a === undefined || b === undefined ? 'unit' : Number(((figure.value * a) / b).toPrecision(15));
}

function byName(table: PointTable, { columns, unit }: PointMapping, places: PointPlaces): PointRow[] {
  const names = nameIndex(places.stations);
  const start = Math.max(
    0,
    places.stations.findIndex((s) => s.id === places.from),
  );
  const left = places.stations.slice(start).filter((s) => !places.read.has(s.id));
  const wide = { value: 1, 'station-value': 2, 'angle-height-value': 3, xyz: 3 }[columns];
  let next = 0;
  return table.rows.map(({ line, cells }) => {
    const not = (fault: RowFault, turn?: Station): PointRow => ({ line, cells, fault, ...(turn && { turn }) });
    if (cells.length < wide) return not('too-few-columns');
    const cell = readCell(cells[wide - 1]!);
    // A single column goes on even where a row is no figure: its place is the one that was meant.
    const station =
      columns === 'value'
        ? left[next++]
        : columns === 'station-value'
          ? names.get(nameKey(cells[0]!))
          : stationAt(places.stations, readCell(cells[0]!), readCell(cells[1]!));
    const turn = columns === 'value' ? station : undefined;
    if (typeof cell === 'string') return not(cell, turn);
    if (!station) return not(columns === 'value' ? 'no-station-left' : 'unknown-station');
    const value = inUnit(cell, unit, places.unit);
    return value === 'unit' ? not('unit', turn) : { line, station, text: cell.text, unit: cell.unit ?? unit, value };
  });
}

const nameKey = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[\s°]+/g, '')
    .replace(',', '.');

function nameIndex(stations: readonly Station[]): Map<string, Station> {
  const index = new Map<string, Station>();
  for (const station of stations) {
    for (const name of [station.id, station.label, station.label.replace(/^core /, '')])
      index.set(nameKey(name), station);
    // A gap is the same from either side.
    const [pair = '', place] = station.id.split('@');
    const [a, b] = pair.split('-');
    if (a && b) index.set(nameKey(`${b}-${a}${place === undefined ? '' : `@${place}`}`), station);
  }
  return index;
}

function stationAt(stations: readonly Station[], angle: CellFigure | CellFault, height: CellFigure | CellFault) {
  if (typeof angle === 'string' || typeof height === 'string') return undefined;
  return stations.find((s) => s.angle_deg === angle.value && s.height_mm === height.value);
}

interface Point {
  readonly line: number;
  readonly cells: readonly string[];
  readonly at: readonly [x: number, y: number, z: number];
}

function byPlace(table: PointTable, mapping: PointMapping, places: PointPlaces): PointRow[] {
  const faults = new Map<number, RowFault>();
  const points: Point[] = [];
  for (const { line, cells } of table.rows) {
    // A tracker may put the point's name before its three figures; a figure before or behind them is of another kind.
    const more = cells.slice(0, -3).some((cell) => typeof readCell(cell) !== 'string');
    const three = cells.slice(-3).map(readCell);
    const bad = three.find((c): c is CellFault => typeof c === 'string');
    const mm = three.map((c) => (typeof c === 'string' ? 'unit' : inUnit(c, mapping.unit, 'mm')));
    if (cells.length < 3) faults.set(line, 'too-few-columns');
    else if (more) faults.set(line, 'too-many-columns');
    else if (bad) faults.set(line, bad);
    else if (mm.includes('unit')) faults.set(line, 'unit');
    else points.push({ line, cells, at: mm as unknown as Point['at'] });
  }
  const wall = places.stations.every((s) => s.angle_deg !== undefined && s.height_mm !== undefined);
  const placed = new Map(
    (wall ? onWall(points, mapping, places) : onFloor(points, places)).map((row) => [row.line, row]),
  );
  return table.rows.map(({ line, cells }) => placed.get(line) ?? { line, cells, fault: faults.get(line)! });
}

const angleBetween = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);
const least = (gaps: readonly number[]): number => Math.min(...gaps.filter((gap) => gap > 1e-6), Infinity);

/** Radii about the axis, at the nearest angle and height. */
function onWall(points: readonly Point[], { axis }: PointMapping, { stations, unit }: PointPlaces): PointRow[] {
  const heights = [...new Set(stations.map((s) => s.height_mm!))].sort((a, b) => a - b);
  const angles = [...new Set(stations.map((s) => s.angle_deg!))].sort((a, b) => a - b);
  const nearHeight = NEAR * least(heights.slice(1).map((h, i) => h - heights[i]!));
  const nearAngle = NEAR * least(angles.map((a, i) => angleBetween(a, angles[(i + 1) % angles.length]!)));
  const heightOf = ({ at }: Point) =>
    heights.find((h) => Math.abs(h - at[2]) <= (nearHeight === Infinity ? 50 : nearHeight));
  const rings = new Map<number, Point[]>();
  for (const point of points) {
    const height = heightOf(point);
    if (height !== undefined) rings.set(height, [...(rings.get(height) ?? []), point]);
  }
  const middles = new Map(
    [...rings].map(([height, ring]) => [height, axis === 'fit' ? middleOf(ring) : ([0, 0] as const)]),
  );
  return points.map((point) => {
    const { line, cells, at } = point;
    const height = heightOf(point);
    if (height === undefined) return { line, cells, fault: 'far-from-stations' };
    const middle = middles.get(height);
    if (!middle) return { line, cells, fault: 'no-axis' };
    const [x, y] = [at[0] - middle[0], at[1] - middle[1]];
    const angle = (Math.atan2(y, x) * 180) / Math.PI;
    const station = stations
      .filter((s) => s.height_mm === height)
      .sort((a, b) => angleBetween(a.angle_deg!, angle) - angleBetween(b.angle_deg!, angle))[0]!;
    if (angleBetween(station.angle_deg!, angle) > nearAngle) return { line, cells, fault: 'far-from-stations' };
    return figureAt(line, station, Math.hypot(x, y), unit);
  });
}

/** The centre of the least-squares circle through a ring; null where its points give none. */
function middleOf(ring: readonly Point[]): readonly [number, number] | null {
  try {
    const { x_mm, y_mm } = circleFit.compute({ points: ring.map(({ at }) => [at[0], at[1]]) }).least_squares;
    return [x_mm, y_mm];
  } catch (error) {
    if (error instanceof RefusedInput) return null;
    throw error;
  }
}

/** Heights at the station that lies nearest in plan. */
function onFloor(points: readonly Point[], { stations, unit }: PointPlaces): PointRow[] {
  const apart = (s: Station, x: number, y: number) => Math.hypot((s.x_mm ?? Infinity) - x, (s.y_mm ?? Infinity) - y);
  return points.map(({ line, cells, at: [x, y, z] }) => {
    let [best, second] = [stations[0], stations[1]];
    for (const s of stations) {
      if (!best || apart(s, x, y) < apart(best, x, y)) [best, second] = [s, best];
      else if (s !== best && (!second || second === best || apart(s, x, y) < apart(second, x, y))) second = s;
    }
    const clear =
      best && second
        ? apart(best, x, y) <= NEAR * Math.hypot(best.x_mm! - second.x_mm!, best.y_mm! - second.y_mm!)
        : best && apart(best, x, y) <= 50;
    return best && clear ? figureAt(line, best, z, unit) : { line, cells, fault: 'far-from-stations' };
  });
}

/** Worked out from a point, to a micrometre. */
function figureAt(line: number, station: Station, mm: number, wanted: string): PointRow {
  const value = Number((mm / (MM[wanted] ?? 1)).toFixed(3)) + 0;
  return { line, station, text: value.toFixed(3), unit: wanted, value };
}
