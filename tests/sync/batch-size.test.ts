import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { readEntry } from '../../shared/logbook/entry.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { longLog } from '../../shared/practice/long-log.ts';
import { writeBatch } from '../../shared/sync/batch.ts';
import type { StoredEntry } from '../../shared/sync/port.ts';
import { newSigner } from '../practice/node-signers.ts';

it('takes no more bytes, zipped, than the same entries as lines without their prev, and far less than with it', async () => {
  const [tablets, signers] = await Promise.all(
    [0, 1].map(() => Promise.all(Array.from({ length: 3 }, () => newSigner()))),
  );
  const wanted = {
    seed: 'size',
    entries: 3_000,
    plan: buildPlan(practiceDesign),
    endsAt: Date.UTC(2026, 5, 1),
    tablets: tablets!.map((t) => t.publicKey),
    signers: signers!,
    person: 'a'.repeat(32),
  };
  const lines: string[] = [];
  for await (const line of longLog(wanted)) lines.push(line);
  const { casting } = JSON.parse(lines[0]!) as { casting: string };
  const entries = lines.map((text): StoredEntry => {
    const read = readEntry(text, casting);
    if ('fault' in read) throw new Error(read.fault);
    const { device, seq, prev } = read.entry;
    return { device, seq, prev, hash: read.hash, text };
  });
  const bytes = (texts: readonly string[]) => gzipSync(texts.join('\n'), { level: 6 }).length;
  const withoutPrev = bytes(lines.map((line) => JSON.stringify({ ...JSON.parse(line), prev: undefined })));
  const batch = gzipSync(writeBatch(entries), { level: 6 }).length;
  expect(batch).toBeLessThan(withoutPrev);
  expect(batch).toBeLessThan(0.7 * bytes(lines));
}, 60_000);
