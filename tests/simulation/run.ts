import { World } from './world.ts';

/** `npx tsx tests/simulation/run.ts SEED [STEPS]` plays one world again. */
const [seed = '1', steps = '20000'] = process.argv.slice(2);
const begun = process.hrtime.bigint();
const outcome = await new World(Number(seed)).run(Number(steps));
const seconds = Number(process.hrtime.bigint() - begun) / 1e9;
console.log(`world ${outcome.seed}: ${outcome.steps} steps, ${outcome.entries} entries, ${seconds.toFixed(2)} s`);
for (const fault of outcome.faults) console.log(`  ${fault}`);
process.exitCode = outcome.faults.length > 0 ? 1 : 0;
