import 'fake-indexeddb/auto';
import { afterAll, describe, expect, it } from 'vitest';
import { FileFault } from '../../shared/logger/file-fault.ts';
import type { Look } from '../../shared/logger/look.ts';
import type { LoggerMapping } from '../../shared/logger/mapping.ts';
import { reasonWords } from '../../shared/logger/report.ts';
import type { Taken } from '../../shared/logger/taking.ts';
import { CastingDatabase } from '../../src/tablet/storage/database.ts';
import { keepFile, type NamedFile } from '../../src/tablet/storage/logger/kept-files.ts';
import { lookAtFile, readWhole } from '../../src/tablet/storage/logger/logger-files.ts';
import { type MalformedFile, malformedFiles } from './malformed-files.ts';

const NOW_MS = Date.UTC(2026, 5, 1);
const CHANNELS = ['CR-1', 'BP-0', 'FC-3'];

/** A file as a chooser gives it; one whose size alone is told breaks when it is read. */
function fileOf({ name, bytes, size }: MalformedFile): NamedFile {
  const file = Object.assign(new Blob([bytes]), { name });
  if (size === undefined) return file;
  return Object.defineProperties(file, {
    size: { value: size },
    slice: {
      value: () => {
        throw new Error('it was read');
      },
    },
  });
}

/** The mapping that the first look proposes; a person would say what it does not know. */
const mappingOf = (look: Look): LoggerMapping => ({
  encoding: look.encoding,
  delimiter: look.delimiter,
  decimalMark: look.decimalMark,
  headerLine: look.headerLine,
  time: { column: look.timeColumn, order: look.order ?? 'dmy', zone: look.zone ?? 'UTC' },
  columns: look.columns.flatMap(({ column, name, channel }) =>
    channel === null ? [] : [{ column, name, channel, unit: '°C' }],
  ),
});

describe('a hundred malformed logger files', () => {
  const db = new CastingDatabase('malformed');
  afterAll(() => db.close());
  const kept = async (): Promise<number[]> =>
    Promise.all([db.blobs.count(), db.sampleFiles.count(), db.samples.count()]);

  for (const malformed of malformedFiles('malformed logger files, 1')) {
    const { name, fault, refused, asked, outOfOrder } = malformed;
    it(`${name}: ${fault ?? (refused!.map((r) => r.reason).join(', ') || 'asked or put in order')}`, async () => {
      const file = fileOf(malformed);
      let found: { look: Look; taken: Taken } | null = null;
      let said: unknown = null;
      try {
        const look = await lookAtFile(file, CHANNELS);
        found = { look, taken: await readWhole(file, mappingOf(look), NOW_MS) };
      } catch (error) {
        said = error;
      }
      if (fault) {
        expect(said).toBeInstanceOf(FileFault);
        expect((said as FileFault).code).toBe(fault);
        // A sentence for the person who chose the file.
        expect((said as FileFault).message).toMatch(/^[A-Z"l].{10,}[.?]$/s);
        expect(await kept()).toEqual([0, 0, 0]);
        return;
      }
      expect(said).toBeNull();
      const { look, taken } = found!;
      for (const what of asked ?? []) expect(look[what], what).toBeNull();
      const lines = taken.report.refused.map((r) => ({
        reason: r.reason,
        lines: r.lines.flatMap(([from, to]) => Array.from({ length: to - from + 1 }, (_, i) => from + i)),
      }));
      const byReason = (a: { reason: string }, b: { reason: string }) => a.reason.localeCompare(b.reason);
      expect(lines.sort(byReason)).toEqual([...refused!].sort(byReason));
      for (const r of taken.report.refused) expect(reasonWords(r)).not.toMatch(/undefined|NaN/);
      expect(taken.report.outOfOrder).toBe(outOfOrder ?? 0);
      // Every row is either taken, or told.
      const times = [...taken.samples.times];
      expect(times.every((t, i) => i === 0 || t > times[i - 1]!)).toBe(true);
      expect(taken.report.samples).toBeGreaterThan(0);
    });
  }

  it('keeps nothing of a file when the tablet fails in the middle of keeping it', async () => {
    const file = Object.assign(new Blob(['time,CR-1\n2026-03-01T00:00:00Z,20.5\n2026-03-01T00:01:00Z,20.7\n']), {
      name: 'sound.csv',
    });
    const look = await lookAtFile(file, CHANNELS);
    const mapping = mappingOf(look);
    const taken = await readWhole(file, mapping, NOW_MS);
    // A value that the database cannot clone breaks the transaction after the blob was put.
    const broken = { ...taken, report: { ...taken.report, rows: 1, taken: (() => 1) as unknown as number } };
    await expect(keepFile(db, file, mapping, broken)).rejects.toThrow();
    expect(await kept()).toEqual([0, 0, 0]);
    await keepFile(db, file, mapping, taken);
    expect((await kept())[0]).toBe(1);
  });
});
