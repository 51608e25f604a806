import { beforeAll, describe, expect, it } from 'vitest';
import { sha256Hex } from '../../shared/logbook/canonical.ts';
import { loggerFiles } from '../../shared/logbook/state/logger-files.ts';
import { heatOf } from '../../shared/logbook/state/rounds.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { pyramidOf } from '../../shared/logger/pyramid.ts';
import { TableReader } from '../../shared/logger/table-reader.ts';
import { Taking } from '../../shared/logger/taking.ts';
import type { LoggerRecord } from '../../shared/practice/logger-record.ts';
import { ENDS_AT, practice, viewOfLines } from './practice-world.ts';
import { foundOfReadings } from './story-findings.ts';

const DAY_MS = 86_400_000;

describe('the practice casting at the end of the cool-down', () => {
  let view: View;
  let files: readonly LoggerRecord[];
  const heats = () => view.plan.heatPlans.map((plan) => heatOf(view, plan)!);
  beforeAll(async () => {
    const { casting, lines, files: all } = await practice('cool-down story', { story: 'cool-down' });
    view = await viewOfLines(casting, lines);
    files = all;
  }, 90_000);

  it('has every heat with its rounds, four months and more from the first to the last', () => {
    expect(heats().map((h) => h.plan.id)).toEqual(['P1', 'P2', 'P3', 'P4', 'P5']);
    for (const { plan, walked, ended_ms } of heats()) {
      expect(walked.length, plan.id).toBeGreaterThan(100);
      expect(ended_ms === null, plan.id).toBe(plan.id === 'P5');
    }
    expect(heats().at(-1)!.walked.at(-1)!.entry.observedAt).toBeDefined();
    expect((ENDS_AT - heats()[0]!.start_ms) / DAY_MS).toBeGreaterThan(120);
  });

  it('has findings of readings and rounds in the preheat, the bake and the cool-down', () => {
    expect(foundOfReadings(view, ['4.1']).length).toBeGreaterThan(0);
    expect(foundOfReadings(view, ['7.1'])).toEqual(['Alarm A2: rate beyond the plan']);
    expect(foundOfReadings(view, ['11.3'])).toEqual([]);
    expect(foundOfReadings(view, ['11.4']).every((title) => title.endsWith('not proven'))).toBe(true);
  });

  it('has a logger record of several hundred thousand samples, of which every row is taken', () => {
    let samples = 0;
    const named = loggerFiles(view).map(({ body }) => body);
    expect(named.map((b) => b.file.name)).toEqual(heats().map((h) => `practice-${h.plan.id}.csv`));
    for (const [i, heat] of heats().entries()) {
      const record = files[i]!;
      const bytes = new TextEncoder().encode(record.text);
      expect(named[i]!.file).toEqual({ hash: sha256Hex(record.text), name: record.name, bytes: bytes.length });
      const taking = new Taking(record.mapping, ENDS_AT);
      const table = new TableReader(record.mapping.delimiter);
      taking.push(table.push(record.text));
      taking.push(table.end());
      const { report, samples: taken } = taking.finish();
      expect([report.taken, report.refused]).toEqual([report.rows, []]);
      expect([named[i]!.rows, named[i]!.taken, Date.parse(named[i]!.to)]).toEqual([
        report.rows,
        report.taken,
        report.to_ms,
      ]);
      expect(pyramidOf(taken).levels.length).toBeGreaterThan(1);
      samples += report.samples;
      // The logger and the rounds tell of one furnace: the mean of the back plate at each full round.
      const last = heat.walked.findLast((r) => r.body.extent === 'full')!;
      const readings = last.body.readings.filter((r) => r.channel.startsWith('BP-') && r.value !== null);
      const at_ms = Date.parse(last.entry.observedAt);
      const row = taken.times.findLastIndex((t) => t <= at_ms);
      const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
      const logged = taken.channels.filter((c) => c.channel.startsWith('BP-')).map((c) => c.values[row]!);
      expect(Math.abs(mean(logged) - mean(readings.map((r) => r.value!)))).toBeLessThan(8);
    }
    expect(samples).toBeGreaterThan(300_000);
  }, 60_000);
});
