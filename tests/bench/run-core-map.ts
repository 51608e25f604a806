/**
 * Measures how the map of the cores opens and moves: `npx tsx tests/bench/run-core-map.ts [diameter_mm] [measured]`.
 * Needs a build. Nothing here gates a test.
 */
import { coreMapTimes } from './core-map.ts';
import { CORES_PAGE } from './import-cores.ts';
import { Lab } from './lab.ts';

const lab = await Lab.open([CORES_PAGE]);
const times = await coreMapTimes(lab, {
  // The most cores that a design may have: 1993, whole and cut.
  blank_diameter_mm: Number(process.argv[2] ?? 8300),
  measured: Number(process.argv[3] ?? 2000),
  slowed: 4,
  seconds: 3,
});
await lab.close();
console.log(JSON.stringify(times, null, 1));
