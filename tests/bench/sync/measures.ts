import { percentile } from '../lab.ts';
import type { Side } from './bench-server.ts';
import { call, type SyncLab, sides } from './sync-lab.ts';

/** One first sync of an empty tablet, and the opening of what it stored in a browser that was started anew. */
export interface FirstSync {
  readonly sync_ms: number;
  readonly open_ms: number;
  /** Until something can be saved again. */
  readonly ready_ms: number;
  readonly down: number;
  readonly up: number;
}

export type FirstSyncs = Readonly<Record<Side, readonly FirstSync[]>>;

/** Runs that alternate between the sides. `told` hears of each. */
export async function firstSyncs(
  lab: SyncLab,
  runs: number,
  told: (side: Side, run: FirstSync) => void = () => undefined,
): Promise<FirstSyncs> {
  const found: Record<Side, FirstSync[]> = { our: [], pouch: [], yjs: [] };
  for (let run = 0; run < runs; run++)
    for (const side of sides) {
      const took = await firstSync(lab, side);
      told(side, took);
      found[side].push(took);
    }
  return found;
}

/** @throws {Error} when not every entry is there and can be asked for, after the sync or after the opening */
export async function firstSync(lab: SyncLab, side: Side): Promise<FirstSync> {
  const { casting, lines } = lab.entries;
  const server = lab.server(side);
  const { tablet, page } = await lab.visit(side);
  if (side === 'our') await call(page, 'prepare', casting, lab.code(side));
  const before = await server.bytes();
  const first = await call(page, 'first');
  const after = await server.bytes();
  await tablet.close();
  const again = await call((await lab.visit(side, tablet)).page, 'again', casting);
  const { problems } = tablet;
  await tablet.discard();
  for (const { entries, answers } of [first, again])
    if (entries !== lines.length || answers === 0)
      throw new Error(`${side}: ${entries} of ${lines.length} entries, ${answers} answers: ${problems.join('; ')}`);
  return {
    sync_ms: first.ms,
    open_ms: again.ms,
    ready_ms: again.ready_ms,
    down: after.down - before.down,
    up: after.up - before.up,
  };
}

/** Ten new entries from one tablet to another that both have the log. */
export interface TenEntries {
  readonly entries: number;
  /** Both passes: the one that sends and the one that takes; the median of the runs. */
  readonly ms: number;
  /** Bytes over the wire in both directions, of both tablets; the median of the runs. */
  readonly bytes: number;
}

export async function tenEntries(lab: SyncLab, runs: number): Promise<TenEntries> {
  const { casting, lines } = lab.entries;
  const server = lab.server('our');
  const writer = await lab.visit('our');
  const reader = await lab.visit('our');
  for (const { page } of [writer, reader]) {
    await call(page, 'prepare', casting, lab.code('our'));
    await call(page, 'first');
  }
  const ms: number[] = [];
  const bytes: number[] = [];
  for (let run = 0; run < runs; run++) {
    await call(writer.page, 'write', 10);
    const before = await server.bytes();
    ms.push((await call(writer.page, 'pass')) + (await call(reader.page, 'pass')));
    const after = await server.bytes();
    bytes.push(after.down + after.up - before.down - before.up);
    const size = await call(reader.page, 'size');
    if (size !== lines.length + 10 * (run + 1)) throw new Error(`${size} entries on the other tablet`);
  }
  await writer.tablet.discard();
  await reader.tablet.discard();
  return { entries: lines.length, ms: percentile(ms, 0.5), bytes: percentile(bytes, 0.5) };
}
