/**
 * Measures the chart of a whole casting: `npx tsx tests/bench/run-chart.ts [rows] [days] [rate]`. Needs a build. Nothing
 * here gates a test.
 */
import { chartTimes, chartWords } from './chart.ts';

const rows = Number(process.argv[2] ?? 34_560);
const days = Number(process.argv[3] ?? 120);
const rate = Number(process.argv[4] ?? 4);
console.log(chartWords(await chartTimes(rows, days, 5, rate), rate));
