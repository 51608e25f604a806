/**
 * Measures the chart of the whole practice casting: `npx tsx tests/bench/run-chart.ts [out.md] [rate]`. Needs a build.
 * Nothing here gates a test.
 */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { chartPage, chartTimes, wholeCasting } from './chart.ts';

const given = process.argv.slice(2);
const out = given.find((text) => text.endsWith('.md'));
const rate = Number(given.find((text) => /^\d+$/.test(text)) ?? 4);
const page = chartPage(await chartTimes(wholeCasting, 3, rate), rate, cpus().length);
if (out) writeFileSync(out, page);
console.log(page);
