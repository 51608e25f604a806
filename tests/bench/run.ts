/**
 * Measures what the log costs as it grows and prints a table of ratios: `npx tsx tests/bench/run.ts [entries] [out.md]`.
 * Needs a build. Nothing here gates a test; machines differ, ratios of one run less so.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { Lab } from './lab.ts';
import { saveTimes, startTimes } from './measures.ts';
import { performancePage } from './performance-page.ts';

const entries = Number(process.argv[2] ?? 100_000);
const out = process.argv[3];
/** How many times slower the page's processor is made. */
const SLOWED = 4;
const SAVES = 200;
const STARTS = 5;

const lab = await Lab.open();
const small = await saveTimes(lab, 1_000, SAVES, SLOWED);
const large = await saveTimes(lab, entries, SAVES, SLOWED);
const start = await startTimes(lab, entries, STARTS, SLOWED);
await lab.close();
const page = performancePage({ small, large, start, slowed: SLOWED, cores: cpus().length });
console.log(page);
if (out) writeFileSync(out, page);
