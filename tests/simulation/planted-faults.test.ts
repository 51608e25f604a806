import { describe, expect, it } from 'vitest';
import { realParts } from './parts.ts';
import { plantedFaults } from './planted-faults.ts';
import { World } from './world.ts';

const STEPS = 4_000;
const WORLDS = 12;

describe('the model finds it when', () => {
  it.each(plantedFaults)(
    '$name',
    async ({ parts }) => {
      let seed = 0;
      let faults: readonly string[] = [];
      while (faults.length === 0 && seed < WORLDS) {
        seed += 1;
        faults = (await new World(seed, { ...realParts, ...parts() }).run(STEPS)).faults;
      }
      expect(faults).not.toEqual([]);
      // The same world without it is in order: it was the planted fault that was found.
      expect((await new World(seed).run(STEPS)).faults).toEqual([]);
    },
    300_000,
  );
});
