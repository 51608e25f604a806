/**
 * Measures what the log costs as it grows and prints a table of ratios: `npx tsx tests/bench/run.ts [entries] [out.md]`.
 * Needs a build. Nothing here gates a test; machines differ, ratios of one run less so.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { Lab, percentile } from './lab.ts';
import { saveTimes, startTimes } from './measures.ts';

const entries = Number(process.argv[2] ?? 100_000);
const out = process.argv[3];
const SLOWED = 4;
const lab = await Lab.open();
const small = await saveTimes(lab, 1_000, Math.min(200, entries), SLOWED);
const large = await saveTimes(lab, entries, Math.min(200, entries), SLOWED);
const start = await startTimes(lab, entries, 3, SLOWED);
await lab.close();

const ms = (value: number): string => value.toFixed(0);
const ratio = (a: number, b: number): string => (a / b).toFixed(2);
const app = percentile(start.app_ms, 0.5);
const bare = percentile(start.bare_ms, 0.5);
const table = [
  '| measure | figure | ratio |',
  '| --- | --- | --- |',
  `| save, ${small.entries} entries, median / 95th percentile of ${small.saves} | ${ms(small.median_ms)} / ${ms(small.p95_ms)} ms | 1 |`,
  `| save, ${large.entries} entries, median / 95th percentile of ${large.saves} | ${ms(large.median_ms)} / ${ms(large.p95_ms)} ms | ${ratio(large.p95_ms, small.p95_ms)} of the small log's |`,
  `| cold start, bare page with the same libraries | ${ms(bare)} ms | 1 |`,
  `| cold start, ${start.entries} entries, until what is next and the hold points stand | ${ms(app)} ms | ${ratio(app, bare)} of the bare page's |`,
].join('\n');
const text = `# Performance

Measured in one run by \`npx tsx tests/bench/run.ts ${entries}\`: ${cpus().length} processor cores, Chromium headless, its processor slowed ${SLOWED} times over its protocol. Single figures mean little on another machine; the ratios are what to compare.

${table}

**Save** is the time from the key event of Enter to the first frame in which the saved reading and its verdict stand on the page; that is said only after the transaction completed. **Cold start** is a browser process that was ended, worker installed.
`;
console.log(text);
if (out) writeFileSync(out, text);
