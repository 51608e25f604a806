import 'fake-indexeddb/auto';
import { expect, it, vi } from 'vitest';
import type { Logged } from '../../shared/logbook/state/samples.ts';
import type { Taken } from '../../shared/logger/taking.ts';
import { CastingDatabase } from '../../src/tablet/storage/database.ts';
import { cacheRows } from '../../src/tablet/storage/logger/kept-files.ts';
import { watchLogged } from '../../src/tablet/storage/logger/logged-samples.ts';

const MINUTE_MS = 60_000;

const taken = (from_ms: number, celsius: number): Taken => ({
  samples: {
    times: Float64Array.from([0, 1, 2], (i) => from_ms + i * MINUTE_MS),
    channels: [{ channel: 'CR-1', values: Float32Array.from([celsius, celsius, celsius]) }],
  },
  report: {
    rows: 3,
    taken: 3,
    samples: 3,
    emptyCells: 0,
    from_ms,
    to_ms: from_ms + 2 * MINUTE_MS,
    refused: [],
    outOfOrder: 0,
    repeatedHour: 0,
  },
});

async function put(db: CastingDatabase, id: string, of: Taken): Promise<void> {
  const { fileRow, rows } = cacheRows(id, of);
  await db.transaction('rw', db.sampleFiles, db.samples, async () => {
    await db.samples.bulkPut(rows);
    await db.sampleFiles.put(fileRow);
  });
}

it('samples that come later are told of, under another name than the part that lay here', async () => {
  const db = new CastingDatabase('logged-samples');
  await put(db, 'one', taken(0, 100));
  const told: Logged[] = [];
  const watch = watchLogged(db, ['one', 'two'], ['CR-1'], { from_ms: 0, to_ms: 60 * MINUTE_MS }).subscribe((logged) =>
    told.push(logged),
  );
  await vi.waitFor(() => expect(told).toHaveLength(1));
  const temperatures = (logged: Logged) => [...new Set(logged.samples.map((s) => s.celsius))];
  expect(temperatures(told[0]!)).toEqual([100]);
  await put(db, 'two', taken(10 * MINUTE_MS, 200));
  await vi.waitFor(() => expect(temperatures(told.at(-1)!)).toEqual([100, 200]));
  expect(told.at(-1)!.name).not.toBe(told[0]!.name);
  watch.unsubscribe();
  db.close();
});
