import { describe, expect, it } from 'vitest';
import { type Outcome, World } from './world.ts';

const WORLDS = 64;
const STEPS = 12_000;

describe('a simulated hall', () => {
  it('loses nothing that was acknowledged, changes nothing, and agrees after healing, in a million steps and more', async () => {
    const outcomes: Outcome[] = [];
    for (let seed = 1; seed <= WORLDS; seed++) outcomes.push(await new World(seed).run(STEPS));
    expect(outcomes.filter((o) => o.faults.length > 0)).toEqual([]);
    expect(outcomes.reduce((sum, o) => sum + o.steps, 0)).toBeGreaterThan(1_000_000);
    expect([...new Set(outcomes.flatMap((o) => Object.keys(o.met)))]).toEqual(
      expect.arrayContaining([
        'batch-too-large',
        'carried by file',
        'clock jump',
        'clone',
        'doubled',
        'fork',
        'gap',
        'lost back',
        'lost there',
        'one-way cut',
        'server crash',
        'server restored',
        'store-full',
        'sweep',
        'tablet crash',
        'tablet full',
        'tablet restored',
        'wrong-hash',
      ]),
    );
  }, 600_000);

  it('is played again by its one number', async () => {
    const [once, again, other] = await Promise.all([7, 7, 8].map((seed) => new World(seed).run(3_000)));
    expect(again).toEqual(once);
    expect(other!.met).not.toEqual(once!.met);
  }, 60_000);
});
