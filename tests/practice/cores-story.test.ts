import { beforeAll, describe, expect, it } from 'vitest';
import { changedSince } from '../../shared/logbook/state/core-changes.ts';
import { coreAt } from '../../shared/logbook/state/core-serials.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { findings } from '../../shared/logbook/state/findings.ts';
import { holdById, holdState } from '../../shared/logbook/state/holds.ts';
import { stationStates } from '../../shared/logbook/state/readings.ts';
import { sheetState } from '../../shared/logbook/state/sheets.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { practice, viewOfLines } from './practice-world.ts';

let view: View;
let entries: number;

beforeAll(async () => {
  const { casting, lines } = await practice('cores', { story: 'cores' });
  entries = lines.length;
  view = await viewOfLines(casting, lines);
}, 240_000);

const hold = (id: string) => holdState(view, holdById(view, id)!);

describe('the practice casting before glass loading', () => {
  it('has every hold point before released, and nothing missing at the one before loading', () => {
    for (const id of ['H01', 'H02', 'H03', 'H04']) expect(`${id} ${hold(id).status}`).toBe(`${id} released`);
    expect(hold('H05').missing.map((c) => `${c.title}: ${c.words}`)).toEqual([]);
    expect(hold('H05').status).toBe('ready');
    expect(entries).toBeLessThan(12_000);
  });

  it('found one gap outside, changed its core, and measured that again', () => {
    const { changes, serial } = coreAt(view, '3.5');
    expect(changes).toHaveLength(1);
    expect(serial).toBe('QL-2207');
    const gap = stationStates(view, '6.3', 'core-gap').get('3.4-3.5@top')!;
    expect(gap.history.map((r) => r.body.verdict)).toEqual(['outside', 'within']);
    expect(gap.current).toHaveLength(1);
    expect(changedSince(view, gap.history[0]!)).toHaveLength(1);
    expect(gap.verdict).toBe('within');
  });

  it('leaves nothing open, and fills the lines that were answered core by core', () => {
    expect(
      findings(view)
        .filter((f) => f.state === 'open')
        .map((f) => f.title),
    ).toEqual([]);
    const filled = sheetState(view, '6.3').items.filter((i) => i.filled !== null);
    expect(filled.length).toBeGreaterThan(3);
    expect(sheetState(view, '7.2').items.find((i) => i.filled?.of === 'readings')?.filled?.stations).toBe(253);
  });

  it('gives the mean gap, the change of height and the face over each core', () => {
    const values = (id: string, operation: string) => judge.derive(view, id, operation)!;
    expect(values('gap-mean', '7.2')).toHaveLength(1);
    expect(Math.abs(values('gap-mean', '7.2')[0]!.value - 12)).toBeLessThan(0.1);
    const changes = values('core-height-change', '7.2');
    expect(changes).toHaveLength(253);
    expect(new Set(changes.map((c) => c.verdict))).toEqual(new Set(['within']));
    const faces = values('face-sheet-thickness', '7.3');
    expect(faces).toHaveLength(253);
    for (const face of faces) expect(Math.abs(face.value - 28)).toBeLessThan(0.6);
  });
});
