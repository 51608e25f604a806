import { describe, expect, it } from 'vitest';
import { findings } from '../../shared/logbook/state/findings.ts';
import { holdById, holdState } from '../../shared/logbook/state/holds.ts';
import { ENDS_AT, viewOfLines } from './practice-world.ts';
import { ReadyForGlass } from './ready-for-glass.ts';

describe('a casting that stands before glass', () => {
  it('has every hold point before released, nothing missing at H05, and nothing found', async () => {
    const ready = await ReadyForGlass.make(ENDS_AT);
    const view = await viewOfLines(ready.casting, ready.texts());
    const states = ['H01', 'H02', 'H03', 'H04', 'H05'].map((id) => holdState(view, holdById(view, id)!));
    expect(states.flatMap((s) => s.missing.map((m) => `${s.hold.id} ${m.title}: ${m.words}`))).toEqual([]);
    expect(states.map((s) => s.status)).toEqual(['released', 'released', 'released', 'released', 'ready']);
    expect(findings(view).map((f) => f.title)).toEqual([]);
  });
});
