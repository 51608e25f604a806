import { percentile } from './lab.ts';
import type { SaveTimes, StartTimes } from './measures.ts';

interface Measured {
  readonly small: SaveTimes;
  readonly large: SaveTimes;
  readonly start: StartTimes;
  readonly slowed: number;
  readonly cores: number;
}

const ms = (value: number): string => value.toFixed(0);
const ratio = (a: number, b: number): string => (a / b).toFixed(2);

/** docs/performance.md: what one run measured, as a table of ratios. */
export function performancePage({ small, large, start, slowed, cores }: Measured): string {
  const app = percentile(start.app_ms, 0.5);
  const bare = percentile(start.bare_ms, 0.5);
  return `# Performance

One run of \`npx tsx tests/bench/run.ts ${large.entries} docs/performance.md\` on a shared machine of ${cores} processor cores, Chromium headless, the page's processor slowed ${slowed} times over its protocol before anything was loaded. Single figures mean little on another machine; the ratios are what to compare.

| measure | figure | ratio |
| --- | --- | --- |
| save, ${small.entries} entries, median / 95th percentile of ${small.saves} | ${ms(small.median_ms)} / ${ms(small.p95_ms)} ms | 1 |
| save, ${large.entries} entries, median / 95th percentile of ${large.saves} | ${ms(large.median_ms)} / ${ms(large.p95_ms)} ms | ${ratio(large.median_ms, small.median_ms)} / ${ratio(large.p95_ms, small.p95_ms)} of the small log's |
| cold start, bare page with the same libraries, median of ${start.bare_ms.length} | ${ms(bare)} ms | 1 |
| cold start, ${start.entries} entries, median of ${start.app_ms.length} | ${ms(app)} ms | ${ratio(app, bare)} of the bare page's |

The log is made by \`shared/practice/long-log.ts\`: four tablets with real chains, fourteen kinds, all stations of the plan, one entry in twenty a strike; it comes in through the store's own import.

**Save**: from the key event of Enter to the first frame in which the saved reading and its verdict stand on the page; that is said only after the transaction completed. Spread over five operations; among the saves ${large.sealed} ${large.sealed === 1 ? 'segment' : 'segments'} of 500 entries ${large.sealed === 1 ? 'was' : 'were'} sealed.

**Cold start**: the browser process was ended, the app's worker installed, its server ended; two and a half seconds after the browser has started (its own address bar is built meanwhile, which an installed app does not have) from the navigation to the first frame in which the due round, the next operation and the next hold point stand, as a full fold gave them, together with a digit that was typed meanwhile. The whole log is read after that, in pieces between which the tablet answers. The bare page opens one table with Preact and Dexie and draws one field; it alternates with the app in the same run.
`;
}
