/**
 * Measures how fast every screen of the surveys opens, and how evenly the map of the cores moves:
 * `npx tsx tests/bench/run-survey-screens.ts [docs/performance-cores.md] [diameter_mm] [measured]`. Needs a build.
 * Nothing here gates a test.
 */
import { writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { CORES_PAGE } from './import-cores.ts';
import { Lab } from './lab.ts';
import { surveyScreenTimes } from './survey-screens.ts';

const SLOWED = 4;
const measured = process.argv[4];
const lab = await Lab.open([CORES_PAGE]);
const t = await surveyScreenTimes(lab, {
  // The most cores that a design may have: 1993, whole and cut.
  blank_diameter_mm: Number(process.argv[3] ?? 8300),
  wall: { angles: 36, heights: 4 },
  ...(measured === undefined ? {} : { measured: Number(measured) }),
  slowed: SLOWED,
  seconds: 3,
});
await lab.close();
const ms = (value: number) => value.toFixed(0);
const words = `# Performance of the surveys

One run of \`npx tsx tests/bench/run-survey-screens.ts docs/performance-cores.md\`: a casting of ${t.cores} cores and a tub of 36 angles at 4 heights, all read before and after (${t.entries} entries), in headless Chromium without a graphics processor, the page's processor slowed ${SLOWED} times; the machine had ${cpus().length} processors and a load of ${loadavg()[1]!.toFixed(1)} over the last five minutes. From the tap until the frame that shows the screen was painted; *whole* is the same until the last figure on it was counted. *First* is the first time after the app was opened, when nothing is worked out yet. *Work* is what the page's main thread itself did that first time, slowed as it was, whoever else wanted the processor.

| screen | first, ms | again, ms | whole, first, ms | whole, again, ms | work, ms |
| --- | --- | --- | --- | --- | --- |
${t.screens.map((s) => `| ${s.name} | ${ms(s.first_ms)} | ${ms(s.again_ms)} | ${ms(s.whole_first_ms)} | ${ms(s.whole_again_ms)} | ${ms(s.work_ms)} |`).join('\n')}

Three seconds of pan and zoom over the map of ${t.cores} cores: ${t.frames} frames, half of them within ${t.frame_p50_ms.toFixed(1)} ms, 95 % within ${t.frame_p95_ms.toFixed(1)} ms, the longest ${t.frame_most_ms.toFixed(1)} ms; ${(100 * t.in_time).toFixed(1)} % came within 33 ms.
`;
console.log(words);
if (process.argv[2] !== undefined && process.argv[2] !== '-') writeFileSync(process.argv[2], words);
