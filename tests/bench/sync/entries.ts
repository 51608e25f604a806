import { gzipSync } from 'node:zlib';
import { castingId } from '../../../shared/logbook/entry.ts';
import { buildPlan } from '../../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../../shared/plan/practice-design.ts';
import { longLog } from '../../../shared/practice/long-log.ts';
import { makeTabletKey, tabletSigner } from '../../../src/tablet/storage/keys.ts';

/** The entries that all sides are given, and what they weigh as zipped lines. */
export interface BenchEntries {
  readonly casting: string;
  readonly lines: readonly string[];
  /** Bytes of one gzip, level 6, of a line an entry: with `prev`, and without. */
  readonly zipped: { readonly withPrev: number; readonly withoutPrev: number };
  /** Bytes of an entry on average. */
  readonly each: number;
}

const TABLETS = 4;
const LEVEL = 6;

/** A long practice log of four tablets with real signatures. */
export async function makeEntries(entries: number): Promise<BenchEntries> {
  const keys = await Promise.all(Array.from({ length: TABLETS }, makeTabletKey));
  const signers = keys.map(tabletSigner);
  const lines: string[] = [];
  const wanted = {
    seed: 'sync bench',
    entries,
    plan: buildPlan(practiceDesign),
    endsAt: Date.now() - 60_000,
    tablets: signers.map((s) => s.publicKey),
    signers,
    person: 'a'.repeat(32),
  };
  for await (const line of longLog(wanted)) lines.push(line);
  const text = lines.join('\n');
  return {
    casting: castingId((JSON.parse(lines[0]!) as { body: object }).body),
    lines,
    zipped: {
      withPrev: gzipSync(text, { level: LEVEL }).length,
      withoutPrev: gzipSync(lines.map(withoutPrev).join('\n'), { level: LEVEL }).length,
    },
    each: Math.round(Buffer.byteLength(text) / lines.length),
  };
}

function withoutPrev(line: string): string {
  const { prev: _, ...rest } = JSON.parse(line) as Record<string, unknown>;
  return JSON.stringify(rest);
}
