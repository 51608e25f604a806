import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { killed } from '../bench/kills.ts';
import { Lab } from '../bench/lab.ts';

/** So many of each in the middle here; `npx tsx tests/bench/run-kills.ts 100` does a hundred. */
const KILLS = 6;

describe('a tablet that is killed', () => {
  let lab: Lab;
  beforeAll(async () => {
    lab = await Lab.open();
  });
  afterAll(() => lab.close());

  for (const moment of ['saving', 'sealing', 'rebuilding'] as const)
    it(`in the middle of ${moment} loses nothing that it had shown as saved, and its chains verify`, async () => {
      const found = await killed(lab, moment, KILLS, 'test');
      console.log(
        `${found.inTheMiddle} of ${found.kills} kills in the middle of ${moment}, ${found.told} entries told as saved, database thrown away by the browser ${found.thrownAway} times`,
      );
      expect(found).toMatchObject({ lost: [], faults: [] });
      expect(found.inTheMiddle).toBeGreaterThan(KILLS / 2);
      expect(found.told).toBeGreaterThan(KILLS);
      // In sealing the browser writes most at once: a second kill within the moment of docs/decisions/0024 is not ruled out.
      expect(found.thrownAway).toBeLessThanOrEqual(moment === 'sealing' ? 1 : 0);
    });
});
