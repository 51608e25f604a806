import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { firstSyncs, tenEntries } from '../bench/sync/measures.ts';
import { buildPages, SyncLab } from '../bench/sync/sync-lab.ts';
import { syncPage } from '../bench/sync/sync-page.ts';

/** The measures of tests/bench/sync at a small size, so that they cannot rot. Nothing timed decides here. */
describe('the bench of sync', () => {
  const ENTRIES = 1_200;
  let pages: string;
  let lab: SyncLab;
  beforeAll(async () => {
    pages = await buildPages();
    lab = await SyncLab.open(pages, ENTRIES);
  });
  afterAll(async () => {
    await lab?.close();
    rmSync(pages, { recursive: true, force: true });
  });

  it('syncs an empty tablet beside its peers, opens again, carries ten entries, and writes its page', async () => {
    const syncs = await firstSyncs(lab, 1);
    const ten = await tenEntries(lab, 1);
    const { zipped, each } = lab.entries;
    const page = syncPage([{ entries: { count: ENTRIES, zipped, each }, syncs, ten }], [`${ENTRIES}x1`], 1);
    for (const [run] of Object.values(syncs))
      for (const figure of Object.values(run!)) expect(figure).toBeGreaterThan(0);
    expect(zipped.withoutPrev).toBeLessThan(zipped.withPrev);
    // Ten notes, both ways, with everything that HTTP adds.
    expect(ten.bytes).toBeLessThan(20_000);
    expect(page).not.toMatch(/NaN|undefined|Infinity/);
  });
});
