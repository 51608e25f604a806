/** Kills a real browser so many times in each act: `npx tsx tests/bench/run-kills.ts [times] [seed]`. */
import { killed } from './kills.ts';
import { Lab } from './lab.ts';

const times = Number(process.argv[2] ?? 100);
const lab = await Lab.open();
for (const moment of ['saving', 'sealing', 'rebuilding'] as const)
  console.log(await killed(lab, moment, times, process.argv[3] ?? 'kills'));
await lab.close();
