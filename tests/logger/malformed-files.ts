import type { FileFaultCode } from '../../shared/logger/file-fault.ts';
import type { Reason } from '../../shared/logger/report.ts';
import { randomOf } from '../../shared/practice/random.ts';

/** A logger file that is wrong in one way, and what must be said of it. */
export interface MalformedFile {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** The size that the chooser tells, where it is not that of the bytes. */
  readonly size?: number;
  /** The whole file is refused with this code; else some rows are, for these reasons, on these lines. */
  readonly fault?: FileFaultCode;
  readonly refused?: readonly { reason: Reason; lines: readonly number[] }[];
  /** What a person must say before it can be read. */
  readonly asked?: readonly ('order' | 'zone')[];
  readonly outOfOrder?: number;
}

const CHANNELS = ['CR-1', 'BP-0', 'FC-3'] as const;
const START_MS = Date.UTC(2026, 2, 14, 6, 0);
const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const two = (n: number): string => String(n).padStart(2, '0');

type Dates = 'iso' | 'ymd' | 'dmy' | 'mdy' | 'unix';

/** How one file is written. */
interface Style {
  readonly delimiter: ',' | ';' | '\t' | '|';
  readonly decimal: '.' | ',';
  readonly dates: Dates;
  readonly newline: '\n' | '\r\n' | '\r';
  readonly rows: number;
}

function timeText(at_ms: number, dates: Dates): string {
  const at = new Date(at_ms);
  const [y, m, d] = [at.getUTCFullYear(), two(at.getUTCMonth() + 1), two(at.getUTCDate())];
  const clock = `${two(at.getUTCHours())}:${two(at.getUTCMinutes())}:${two(at.getUTCSeconds())}`;
  if (dates === 'unix') return String(at_ms / 1000);
  if (dates === 'iso') return `${y}-${m}-${d}T${clock}Z`;
  if (dates === 'ymd') return `${y}-${m}-${d} ${clock}`;
  return dates === 'dmy' ? `${d}.${m}.${y} ${clock}` : `${m}/${d}/${y} ${clock}`;
}

type Cell = string | number;

/** The cells of a sound file: times a minute apart and three channels. */
function cells(style: Style, rng: () => number): Cell[][] {
  return Array.from({ length: style.rows }, (_, i) => [
    timeText(START_MS + i * 60_000, style.dates),
    ...CHANNELS.map((_, c) => Math.round((400 + 20 * c + i / 10 + rng()) * 10) / 10),
  ]);
}

const write = (rows: readonly (readonly Cell[])[], { delimiter, decimal, newline }: Style): string =>
  rows
    .map((row) => row.map((c) => (typeof c === 'number' ? String(c).replace('.', decimal) : c)).join(delimiter))
    .join(newline);

const HEADER = ['time', ...CHANNELS];

function styles(rng: () => number): Style {
  const pick = <T>(all: readonly T[]): T => all[Math.floor(rng() * all.length)]!;
  const decimal = pick(['.', ','] as const);
  return {
    decimal,
    delimiter: pick(decimal === ',' ? ([';', '\t', '|'] as const) : ([',', ';', '\t', '|'] as const)),
    dates: pick(['iso', 'ymd', 'dmy', 'mdy', 'unix']),
    newline: pick(['\n', '\r\n', '\r']),
    rows: 20 + Math.floor(rng() * 40),
  };
}

/** Each makes one kind of malformed file; `at` is a row of values, counted from 0, and stands on line `at + 2`. */
const makers: readonly ((style: Style, rng: () => number, at: number) => Omit<MalformedFile, 'name'>)[] = [
  // A decimal comma in a file with decimal points, and the other way round.
  (style, rng, at) => {
    const rows = cells({ ...style, delimiter: ';' }, rng);
    rows[at]![2] = style.decimal === '.' ? '431,25' : '431.25';
    return {
      bytes: utf8(write([HEADER, ...rows], { ...style, delimiter: ';' })),
      refused: [{ reason: 'other-decimal-mark', lines: [at + 2] }],
    };
  },
  // A decimal comma where the comma is the delimiter too: every row falls apart.
  (style, rng) => {
    const whole = { ...style, delimiter: ',', decimal: ',' } as const;
    const rows = cells(whole, rng).map((row) => row.map((c) => (typeof c === 'number' ? `${Math.floor(c)},5` : c)));
    return { bytes: utf8(write([HEADER, ...rows], whole)), fault: 'nothing-taken' };
  },
  // One date in another order than the rest.
  (style, rng, at) => {
    const rows = cells({ ...style, dates: 'ymd' }, rng);
    rows[at]![0] = timeText(START_MS + at * 60_000, 'dmy');
    return {
      bytes: utf8(write([HEADER, ...rows], style)),
      refused: [{ reason: 'other-date-order', lines: [at + 2] }],
      asked: ['zone'],
    };
  },
  // Dates that can be read in two orders.
  (style, rng) => {
    const early = cells({ ...style, dates: 'dmy' }, rng).map(([time, ...rest]) => [
      String(time).replace('14.03', '04.03'),
      ...rest,
    ]);
    return { bytes: utf8(write([HEADER, ...early], style)), asked: ['order', 'zone'], refused: [] };
  },
  // A mark at the beginning (BOM) of three encodings: no fault at all.
  (style, rng) => {
    const text = write([HEADER, ...cells({ ...style, dates: 'iso' }, rng)], style);
    const bytes =
      rng() < 0.5
        ? new Uint8Array([0xef, 0xbb, 0xbf, ...utf8(text)])
        : new Uint8Array([0xff, 0xfe, ...[...text].flatMap((c) => [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8])]);
    return { bytes, refused: [] };
  },
  // A row with columns missing.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at] = rows[at]!.slice(0, 2);
    return { bytes: utf8(write([HEADER, ...rows], style)), refused: [{ reason: 'too-few', lines: [at + 2] }] };
  },
  // A row with too many.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at]!.push('17');
    return { bytes: utf8(write([HEADER, ...rows], style)), refused: [{ reason: 'too-many', lines: [at + 2] }] };
  },
  // One time twice, with other values; and once more the same row, which is no fault.
  (style, rng, at) => {
    const rows = cells(style, rng);
    const twice = [rows[at]![0]!, 1, 2, 3];
    const all = [...rows.slice(0, at + 1), twice, [...rows[at]!], ...rows.slice(at + 1)];
    return { bytes: utf8(write([HEADER, ...all], style)), refused: [{ reason: 'same-time', lines: [at + 3] }] };
  },
  // Rows out of order in time.
  (style, rng, at) => {
    const rows = cells(style, rng);
    [rows[at], rows[at + 1]] = [rows[at + 1]!, rows[at]!];
    return { bytes: utf8(write([HEADER, ...rows], style)), refused: [], outOfOrder: 1 };
  },
  // Values that are no finite number.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at]![1] = ['NaN', 'OVL', '-Inf', '#N/A', '1e999'][at % 5]!;
    return { bytes: utf8(write([HEADER, ...rows], style)), refused: [{ reason: 'not-finite', lines: [at + 2] }] };
  },
  // Words where a value should stand.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at]![3] = 'siehe Blatt 3';
    return { bytes: utf8(write([HEADER, ...rows], style)), refused: [{ reason: 'not-a-number', lines: [at + 2] }] };
  },
  // A fill value, and a temperature below absolute zero.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at]![1] = 9999;
    rows[at + 1]![2] = -300;
    return {
      bytes: utf8(write([HEADER, ...rows], style)),
      refused: [
        { reason: 'implausible', lines: [at + 2] },
        { reason: 'below-absolute-zero', lines: [at + 3] },
      ],
    };
  },
  // A time that is none, and one that is missing.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at]![0] = '';
    rows[at + 1]![0] = 'gestern';
    return {
      bytes: utf8(write([HEADER, ...rows], style)),
      refused: [
        { reason: 'no-time', lines: [at + 2] },
        { reason: 'time-unreadable', lines: [at + 3] },
      ],
    };
  },
  // A row from the future.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at]![0] = timeText(Date.UTC(2031, 4, 20), style.dates);
    return { bytes: utf8(write([HEADER, ...rows], style)), refused: [{ reason: 'ahead', lines: [at + 2] }] };
  },
  // Binary.
  (_, rng) => ({ bytes: new Uint8Array(Array.from({ length: 4000 }, () => Math.floor(rng() * 256))), fault: 'binary' }),
  // A workbook.
  (_, rng) => ({
    bytes: new Uint8Array([0x50, 0x4b, 3, 4, ...Array.from({ length: 2000 }, () => Math.floor(rng() * 256))]),
    fault: 'binary',
  }),
  // 2 GB, refused before a byte is read.
  () => ({ bytes: utf8('never read'), size: 2_147_483_648, fault: 'too-large' }),
  // Nothing at all; blanks; one column; names alone; no time anywhere.
  (_, _rng, at) => ({ bytes: utf8(['', ' \n \n'][at % 2]!), fault: 'empty' }),
  (style, rng) => ({
    bytes: utf8(
      cells(style, rng)
        .map(([, value]) => Math.floor(Number(value)))
        .join('\n'),
    ),
    fault: 'one-column',
  }),
  (style) => ({ bytes: utf8(write([HEADER], style)), fault: 'no-rows' }),
  (style, rng) => ({
    bytes: utf8(write([HEADER, ...cells(style, rng).map(([, ...rest], i) => [`sample ${i}`, ...rest])], style)),
    fault: 'no-time',
  }),
  // A quotation mark that is never closed.
  (style, rng, at) => {
    const rows = cells(style, rng);
    rows[at]![1] = '"412';
    return { bytes: utf8(write([HEADER, ...rows], style)), fault: 'quote-open' };
  },
  // Bytes that stop being UTF-8 long after the beginning that is looked at.
  (style, rng) => {
    const text = write([HEADER, ...cells({ ...style, rows: 9000 }, rng)], style);
    return { bytes: new Uint8Array([...utf8(text), 0xff, 0xff, 0x0a]), fault: 'not-text' };
  },
  // Zero bytes in the middle of the file: the memory of the logger was torn.
  (style, rng) => {
    const bytes = utf8(write([HEADER, ...cells({ ...style, rows: 12_000 }, rng)], style));
    bytes.fill(0, bytes.length - 5000, bytes.length - 4000);
    return { bytes, fault: 'binary' };
  },
  // Every value is a fill value.
  (style, rng) => ({
    bytes: utf8(write([HEADER, ...cells(style, rng).map(([time]) => [time!, 9999, 9999, 9999])], style)),
    fault: 'nothing-taken',
  }),
];

/** A hundred malformed files, each kind in several styles. */
export function malformedFiles(seed: string): MalformedFile[] {
  const rng = randomOf(seed, 'malformed files').uniform;
  return Array.from({ length: 100 }, (_, i) => {
    const style = styles(rng);
    const at = 3 + Math.floor(rng() * 12);
    return { name: `logger-${i}.csv`, ...makers[i % makers.length]!(style, rng, at) };
  });
}
