import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Strand } from '../../shared/logbook/state/strand.ts';

interface Item {
  readonly at: number;
}
interface Sum {
  readonly sum: number;
}

/** Running sums, and how many of them were worked out. */
function counted() {
  const strand = new Strand<Item, Sum>();
  let steps = 0;
  const follow = (root: Sum, items: readonly Item[]): number[] =>
    strand
      .follow(root, items, (before, item) => {
        steps += 1;
        return { sum: before.at(-1)!.sum + item.at };
      })
      .map((s) => s.sum);
  const stepsOf = (work: () => void): number => {
    const from = steps;
    work();
    return steps - from;
  };
  return { follow, stepsOf };
}

const items = (count: number): Item[] => Array.from({ length: count }, (_, i) => ({ at: i + 1 }));

describe('a strand', () => {
  it('works out one item for one more, those behind it for a late one, and all for another root', () => {
    const { follow, stepsOf } = counted();
    const root = { sum: 0 };
    const all = items(1000);
    expect(stepsOf(() => follow(root, all))).toBe(1000);
    expect(stepsOf(() => follow(root, all))).toBe(0);
    const more = [...all, { at: 1001 }];
    expect(stepsOf(() => follow(root, more))).toBe(1);
    const late = [...more.slice(0, 990), { at: 5 }, ...more.slice(990)];
    expect(stepsOf(() => follow(root, late))).toBe(12);
    expect(stepsOf(() => follow({ sum: 7 }, late))).toBe(1002);
  });

  it('gives what a strand gives that was never asked before, whatever comes and goes', () => {
    fc.assert(
      fc.property(fc.array(fc.array(fc.nat(19), { maxLength: 20 }), { maxLength: 12 }), (picks) => {
        const pool = items(20);
        const root = { sum: 0 };
        const kept = counted();
        for (const pick of picks) {
          const chosen = [...new Set(pick)].map((i) => pool[i]!);
          expect(kept.follow(root, chosen)).toEqual(counted().follow(root, chosen));
        }
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});
