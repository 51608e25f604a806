/**
 * Measures a first sync, opening again, and ten new entries, beside general-purpose peers:
 * `npx tsx tests/bench/run-sync.ts [entries[xRuns]...] [out.md]`. Nothing here gates a test; machines differ, ratios of one run
 * less so.
 */
import { rmSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { firstSyncs, tenEntries } from './sync/measures.ts';
import { buildPages, SyncLab } from './sync/sync-lab.ts';
import { type Measured, syncPage } from './sync/sync-page.ts';

const given = process.argv.slice(2);
const out = given.find((text) => text.endsWith('.md'));
const sizes = given.filter((text) => /^\d+(x\d+)?$/.test(text));
const RUNS = 3;
const TEN_RUNS = 5;

const pages = await buildPages();
const all: Measured[] = [];
for (const size of sizes.length > 0 ? sizes : ['1000', '10000', '100000']) {
  const [count, runs = RUNS] = size.split('x').map(Number) as [number, number?];
  const lab = await SyncLab.open(pages, count);
  const { zipped, each } = lab.entries;
  const syncs = await firstSyncs(lab, runs, (side, run) => console.error(`${count} ${side} ${JSON.stringify(run)}`));
  all.push({ entries: { count, zipped, each }, syncs, ten: await tenEntries(lab, TEN_RUNS) });
  await lab.close();
  // A long run that is broken off leaves what it has found.
  if (out) writeFileSync(out, syncPage(all, given, cpus().length));
}
rmSync(pages, { recursive: true, force: true });
console.log(syncPage(all, given, cpus().length));
