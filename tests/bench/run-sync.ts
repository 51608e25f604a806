/**
 * Measures a first sync, opening again, and ten new entries, beside general-purpose peers:
 * `npx tsx tests/bench/run-sync.ts [entries...] [out.md]`. Nothing here gates a test; machines differ, ratios of one run
 * less so.
 */
import { rmSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { firstSyncs, tenEntries } from './sync/measures.ts';
import { buildPages, SyncLab } from './sync/sync-lab.ts';
import { type Measured, syncPage } from './sync/sync-page.ts';

const given = process.argv.slice(2);
const out = given.find((text) => text.endsWith('.md'));
const counts = given.map(Number).filter((n) => n > 0);
const RUNS = 3;
const TEN_RUNS = 5;

const pages = await buildPages();
const all: Measured[] = [];
for (const count of counts.length > 0 ? counts : [1_000, 10_000, 100_000]) {
  const lab = await SyncLab.open(pages, count);
  const { zipped, each } = lab.entries;
  const syncs = await firstSyncs(lab, RUNS, (side, run) => console.error(`${count} ${side} ${JSON.stringify(run)}`));
  all.push({ entries: { count, zipped, each }, syncs, ten: await tenEntries(lab, TEN_RUNS) });
  await lab.close();
}
rmSync(pages, { recursive: true, force: true });
const page = syncPage(all, cpus().length);
console.log(page);
if (out) writeFileSync(out, page);
