import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, sha256Hex } from '../../shared/logbook/canonical.ts';
import { type Entry, FORMAT } from '../../shared/logbook/entry.ts';
import { Log } from '../../shared/logbook/log.ts';
import { carriedUpTo, notElsewhere } from '../../shared/sync/carried.ts';
import { viewOf } from '../../shared/sync/log-view.ts';
import { missingHere, missingThere } from '../../shared/sync/missing.ts';
import type { Heads } from '../../shared/sync/port.ts';

const casting = 'c'.repeat(32);

interface Made {
  readonly entry: Entry;
  readonly hash: string;
}

function made(device: string, before: Made | null, text: string): Made {
  const entry: Entry = {
    format: FORMAT,
    casting,
    device,
    seq: (before?.entry.seq ?? 0) + 1,
    prev: before?.hash ?? null,
    seen: {},
    clock: [1, 0],
    observedAt: '2026-03-01T08:00:00Z',
    recordedAt: '2026-03-01T08:00:00Z',
    by: 'b'.repeat(32),
    kind: 'note',
    body: { text },
  };
  return { entry, hash: sha256Hex(canonicalJson(entry)) };
}

const logOf = (all: readonly Made[]): Log => {
  const log = new Log(casting);
  for (const { entry, hash } of all) log.add(entry, hash, 'none');
  return log;
};

/** Chains of two devices that fork at will: each number says after which entry so far the next one is written. */
const trees = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 1 }), fc.nat(), fc.boolean()), { maxLength: 25 })
  .map((steps) => {
    const all: Made[] = [];
    steps.forEach(([device, pick, goesOn], i) => {
      const name = String(device + 1).repeat(32);
      const own = all.filter((m) => m.entry.device === name);
      const before = own.length === 0 ? null : goesOn ? own.at(-1)! : own[pick % own.length]!;
      all.push(made(name, before, `entry ${i}`));
    });
    return all;
  });

const sortedTips = (heads: Heads) =>
  Object.entries(heads)
    .flatMap(([d, tips]) => tips.map((t) => `${d} ${t}`))
    .sort();

describe('what one side lacks', () => {
  it('is found for every pair of logs, forks or none, from heads alone, once all their heads are known', () => {
    fc.assert(
      fc.property(trees, fc.nat(), (all, cut) => {
        // The other side has a part in which no entry hangs in the air.
        const there = new Map<string, Made>();
        all.forEach((m, i) => {
          if ((m.entry.prev === null || there.has(m.entry.prev)) && (i * 7 + cut) % 3 > 0) there.set(m.hash, m);
        });
        const [here, heads] = [viewOf(logOf(all)), viewOf(logOf([...there.values()])).tips()];
        expect(missingThere(here, heads).sort()).toEqual(
          all
            .map((m) => m.hash)
            .filter((h) => !there.has(h))
            .sort(),
        );
        expect(missingHere(here, heads)).toEqual({});
      }),
      { seed: 6, numRuns: 500 },
    );
  });

  it('comes with each entry after the one that it builds on', () => {
    fc.assert(
      fc.property(trees, (all) => {
        const order = missingThere(viewOf(logOf(all)), {});
        const before = new Map(all.map((m) => [m.hash, m.entry.prev]));
        order.forEach((hash, i) => {
          const prev = before.get(hash)!;
          expect(prev === null || order.indexOf(prev) < i).toBe(true);
          expect(prev === null || order.includes(prev)).toBe(true);
        });
        expect(new Set(order).size).toBe(all.length);
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  it('never holds an entry twice, nor one that the other side has, while some of their heads are unknown', () => {
    fc.assert(
      fc.property(trees, fc.nat(), (all, cut) => {
        const mine = all.filter((_m, i) => i < cut % (all.length + 1));
        const theirHeads = viewOf(logOf(all)).tips();
        const missing = missingThere(viewOf(logOf(mine)), theirHeads);
        // They have everything: nothing may be sent along a chain on which a common head is known.
        const unclear = missingHere(viewOf(logOf(mine)), theirHeads);
        expect(missing.filter((h) => !(mine.find((m) => m.hash === h)!.entry.device in unclear))).toEqual([]);
        expect(new Set(missing).size).toBe(missing.length);
      }),
      { seed: 8, numRuns: 300 },
    );
  });
});

describe('a log as sync reads it', () => {
  const device = '1'.repeat(32);
  const chain: Made[] = [];
  for (let n = 0; n < 4; n++) chain.push(made(device, chain.at(-1) ?? null, `entry ${n}`));

  it('ends where its whole line ends: what waits for an entry before it is not there yet', () => {
    const view = viewOf(logOf([chain[0]!, chain[1]!, chain[3]!]));
    expect(view.tips()).toEqual({ [device]: [[2, chain[1]!.hash]] });
    expect(view.get(chain[3]!.hash)).toBeUndefined();
    expect(view.get(chain[1]!.hash)).toEqual({ device, seq: 2, prev: chain[0]!.hash, hash: chain[1]!.hash });
    expect(sha256Hex(view.text(chain[1]!.hash))).toBe(chain[1]!.hash);
  });

  it('names every tip of a fork', () => {
    const branch = made(device, chain[1]!, 'on the copy');
    expect(sortedTips(viewOf(logOf([...chain, branch])).tips())).toEqual(
      [`${device} 3,${branch.hash}`, `${device} 4,${chain[3]!.hash}`].sort(),
    );
  });

  it('tells how far a chain lies elsewhere, and what does not', () => {
    const view = viewOf(logOf(chain));
    const head = chain[3]!.hash;
    expect(carriedUpTo(view, {}, device, head)).toBe(0);
    expect(carriedUpTo(view, { [device]: [[2, chain[1]!.hash]] }, device, head)).toBe(2);
    expect(notElsewhere(view, { [device]: [[2, chain[1]!.hash]] })).toEqual([chain[2]!.hash, head]);
    expect(notElsewhere(view, null)).toHaveLength(4);
  });
});
