import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lookAt } from '../../shared/logger/look.ts';
import type { LoggerMapping } from '../../shared/logger/mapping.ts';
import { pyramidOf } from '../../shared/logger/pyramid.ts';
import { readNumber } from '../../shared/logger/read-number.ts';
import { ordersOf, TimeReader } from '../../shared/logger/read-time.ts';
import { linesWords, reportText } from '../../shared/logger/report.ts';
import { TableReader } from '../../shared/logger/table-reader.ts';
import { Taking } from '../../shared/logger/taking.ts';

const NEVER = Number.NEGATIVE_INFINITY;
const iso = (at_ms: number | string): string => (typeof at_ms === 'number' ? new Date(at_ms).toISOString() : at_ms);

describe('rows of a delimited file', () => {
  const rowsOf = (text: string, pieces = 1): string[][] => {
    const reader = new TableReader(',');
    const size = Math.ceil(text.length / pieces);
    const rows = Array.from({ length: pieces }, (_, i) => reader.push(text.slice(i * size, (i + 1) * size))).flat();
    return [...rows, ...reader.end()].map((r) => [...r.cells]);
  };

  it('are those of RFC 4180, section 2, rules 1 to 7 (its own examples)', () => {
    expect(rowsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
    expect(rowsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toHaveLength(2);
    expect(rowsOf('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([
      ['aaa', 'b\r\nbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
    expect(rowsOf('"aaa","b""bb","ccc"')).toEqual([['aaa', 'b"bb', 'ccc']]);
  });

  it('are the same however the file comes in pieces, and keep their line numbers', () => {
    const cell = fc.stringMatching(/^[a-z0-9 ."\n,]{0,6}$/);
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1 }),
        fc.integer(),
        (rows, n) => {
          const text = rows.map((r) => r.map((c) => `"${c.replaceAll('"', '""')}"`).join(',')).join('\n');
          expect(rowsOf(text, 1 + (Math.abs(n) % 7))).toEqual(rowsOf(text));
        },
      ),
      { seed: 4180 },
    );
    const reader = new TableReader(';');
    const rows = [...reader.push('a;b\n\n1;"x\ny"\n2;3'), ...reader.end()];
    expect(rows.map((r) => r.line)).toEqual([1, 3, 5]);
  });
});

describe('a figure of a file', () => {
  it('is read with the decimal mark that was said, and never guessed', () => {
    expect([readNumber('1160,25', ','), readNumber('1160.25', '.'), readNumber('-0,5 °C', ',')]).toEqual([
      1160.25, 1160.25, -0.5,
    ]);
    expect([readNumber('1160,25', '.'), readNumber('1.160', ',')]).toEqual([
      'other-decimal-mark',
      'other-decimal-mark',
    ]);
    expect([readNumber('', '.'), readNumber('---', '.')]).toEqual([null, null]);
    expect(['NaN', 'Infinity', '1e999', 'OVL', '#DIV/0!'].map((t) => readNumber(t, '.'))).toEqual(
      Array(5).fill('not-finite'),
    );
    expect(['1,160.5', '12 34', '0x10', 'dead'].map((t) => readNumber(t, '.'))).toEqual(Array(4).fill('not-a-number'));
  });
});

describe('a time of a file', () => {
  it('reads what ISO 8601 and the usual orders write', () => {
    const utc = (text: string, order: 'ymd' | 'dmy' | 'mdy') => iso(new TimeReader(order, 'UTC').read(text, NEVER));
    expect(utc('2026-03-14T06:05:00.250Z', 'ymd')).toBe('2026-03-14T06:05:00.250Z');
    expect(utc('2026-03-14T06:05:00+05:30', 'ymd')).toBe('2026-03-14T00:35:00.000Z');
    expect(utc('14.03.2026 06:05', 'dmy')).toBe('2026-03-14T06:05:00.000Z');
    expect(utc('03/14/2026 12:05:09 AM', 'mdy')).toBe('2026-03-14T00:05:09.000Z');
    expect(utc('14-Mar-26 18:00', 'dmy')).toBe('2026-03-14T18:00:00.000Z');
    expect(utc('29.02.2026 06:05', 'dmy')).toBe('time-unreadable');
    expect(utc('14.03.2026 24:05', 'dmy')).toBe('time-unreadable');
    expect(utc('2026-03-14 06:05', 'dmy')).toBe('other-date-order');
    expect(iso(new TimeReader('unix-s', 'UTC').read('1773468300', NEVER))).toBe('2026-03-14T06:05:00.000Z');
  });

  it('says when only a person can tell day from month', () => {
    expect(ordersOf('04/05/2026 10:00')).toEqual(['dmy', 'mdy']);
    expect(ordersOf('14/05/2026 10:00')).toEqual(['dmy']);
    expect(ordersOf('04-May-2026 10:00')).toEqual(['dmy']);
    expect(ordersOf('1773468300000')).toEqual(['unix-ms']);
    expect(ordersOf('431.5')).toEqual([]);
  });

  // IANA time zone data base, rules EU (last Sundays of March and October, 01:00 UTC): Europe/Berlin in 2026.
  it('has no instant in the hour that is put forward, and two in the one that is put back', () => {
    const berlin = new TimeReader('ymd', 'Europe/Berlin');
    expect(iso(berlin.read('2026-03-29 01:59', NEVER))).toBe('2026-03-29T00:59:00.000Z');
    expect(berlin.read('2026-03-29 02:30', NEVER)).toBe('time-skipped');
    expect(iso(berlin.read('2026-03-29 03:00', NEVER))).toBe('2026-03-29T01:00:00.000Z');
    const walk = ['01:59', '02:00', '02:30', '02:59', '02:00', '02:30', '03:00'];
    let before = NEVER;
    const instants = walk.map((clock) => {
      before = berlin.read(`2026-10-25 ${clock}`, before) as number;
      return iso(before).slice(11, 16);
    });
    expect(instants).toEqual(['23:59', '00:00', '00:30', '00:59', '01:00', '01:30', '02:00']);
    expect(berlin.repeated).toBe(5);
  });
});

describe('the first look at a file', () => {
  const look = (text: string) => lookAt(text, 'utf-8', ['CR-1', 'BP-0', 'FC-3']);

  it('finds names, units and channels behind lines of prose', () => {
    const found = look(
      'Logger 7, hall 2\nstarted by the night shift\n\nDatum;Zeit;CR 1 [°C];bp0 (F);door\n14.03.2026;06:00:00;431,5;810,1;1\n14.03.2026;06:01:00;431,6;810,3;0\n',
    );
    expect(found).toMatchObject({
      delimiter: ';',
      decimalMark: ',',
      headerLine: 4,
      timeColumn: 0,
      clockColumn: 1,
      order: 'dmy',
      zone: null,
    });
    expect(found.columns.map(({ column, channel, unit }) => [column, channel, unit])).toEqual([
      [2, 'CR-1', '°C'],
      [3, 'BP-0', '°F'],
      [4, null, null],
    ]);
  });

  it('leaves to a person what the file does not say', () => {
    const found = look('t,CR-1\n04/05/2026 10:00,20.5\n05/05/2026 10:00,20.5\n');
    expect([found.order, found.orders, found.zone]).toEqual([null, ['dmy', 'mdy'], null]);
    expect(look('t,CR-1\n2026-05-04T10:00Z,20.5\n').zone).toBe('own offset');
    expect(look('20.5,2026-05-04 10:00\n20.6,2026-05-04 10:01\n')).toMatchObject({ headerLine: 0, timeColumn: 1 });
  });
});

const mapping: LoggerMapping = {
  encoding: 'utf-8',
  delimiter: ',',
  decimalMark: '.',
  headerLine: 1,
  time: { column: 0, order: 'ymd', zone: 'UTC' },
  columns: [
    { column: 1, name: 'a', channel: 'CR-1', unit: '°C' },
    { column: 2, name: 'b', channel: 'BP-0', unit: '°F' },
  ],
};

describe('taking a file in', () => {
  const take = (text: string, m = mapping) => {
    const table = new TableReader(m.delimiter);
    const taking = new Taking(m, Date.UTC(2026, 5, 1));
    taking.push(table.push(text));
    taking.push(table.end());
    return taking.finish();
  };

  it('counts every row and every value, taken or not', () => {
    const { samples, report } = take(
      't,a,b\n2026-03-01 00:02,21,68\n2026-03-01 00:01,x,50\n\n2026-03-01 00:01,1,2\nrot,1,2\n2026-03-01 00:03,,32\n',
    );
    expect([...samples.times].map(iso)).toEqual([
      '2026-03-01T00:01:00.000Z',
      '2026-03-01T00:02:00.000Z',
      '2026-03-01T00:03:00.000Z',
    ]);
    expect([...samples.channels[0]!.values]).toEqual([Number.NaN, 21, Number.NaN]);
    expect([...samples.channels[1]!.values]).toEqual([10, 20, 0]);
    expect(report).toMatchObject({ rows: 5, taken: 3, samples: 4, emptyCells: 1, outOfOrder: 2 });
    expect(report.refused.map((r) => [r.reason, r.column, linesWords(r.lines)])).toEqual([
      ['time-unreadable', null, '6'],
      ['same-time', null, '5'],
      ['not-a-number', 'a', '3'],
    ]);
    expect(reportText('x.csv', report)).toContain('1 value of a no number ("x"): lines 3.');
  });

  it('says in words when the mapping is not that of the file', () => {
    expect(() => take('t,a\n2026-03-01 00:02,21\n')).toThrow(/column 3, and the file has 2/);
    expect(() => take('t,b,a\n2026-03-01 00:02,21,3\n')).toThrow(/Column 2 should be "a", and the file calls it "b"/);
    const twice = { ...mapping, columns: mapping.columns.map((c) => ({ ...c, channel: 'CR-1' })) };
    expect(() => take('t,a,b\n', twice)).toThrow(/Two columns are given to channel CR-1/);
  });
});

describe('thinned samples', () => {
  it('never lose an extreme, and never span a gap', () => {
    const value = fc.option(fc.float({ min: -50, max: 1800, noNaN: true }), { nil: Number.NaN });
    fc.assert(
      fc.property(fc.array(value, { minLength: 300, maxLength: 3000 }), fc.nat(), (all, at) => {
        const gapAt = at % all.length;
        const times = Float64Array.from(all, (_, i) => i * 60_000 + (i > gapAt ? 86_400_000 : 0));
        const values = Float32Array.from(all);
        const { levels, channels } = pyramidOf({ times, channels: [{ channel: 'CR-1', values }] });
        expect(levels.length).toBeGreaterThan(1);
        const finite = values.filter((v) => !Number.isNaN(v));
        channels[0]!.levels.forEach(({ least, greatest }, level) => {
          const { from, to } = levels[level]!;
          expect(Math.min(...least.filter((v) => !Number.isNaN(v)))).toBe(Math.min(...finite));
          expect(Math.max(...greatest.filter((v) => !Number.isNaN(v)))).toBe(Math.max(...finite));
          for (let i = 0; i < from.length; i++) {
            expect(from[i]! <= times[gapAt]! && to[i]! > times[gapAt]!).toBe(false);
            if (i > 0) expect(from[i]!).toBeGreaterThan(to[i - 1]!);
          }
        });
      }),
      { seed: 8, numRuns: 40 },
    );
  });
});
