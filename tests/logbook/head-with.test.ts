import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Entry, readEntry } from '../../shared/logbook/entry.ts';
import { Log } from '../../shared/logbook/log.ts';
import { idOf, TestChain } from '../server/chains.ts';

const casting = idOf('head with');

interface Read {
  readonly entry: Entry;
  readonly hash: string;
}

/** A chain of a tablet, and where it is copied a branch of it. */
function entriesOf(length: number, forkAfter: number, branch: number): Read[] {
  const chain = new TestChain(casting, 'one');
  chain.grow(length);
  const links = [...chain.links, ...chain.forkedAfter(Math.min(forkAfter, length)).grow(branch, 'on the copy')];
  return links.map(({ text }) => readEntry(text, casting) as Read);
}

const logOf = (entries: readonly Read[]): Log => {
  const log = new Log(casting);
  for (const { entry, hash } of entries) log.add(entry, hash, 'none');
  return log;
};

it('the head with further entries is the head once they have come, in order or not, forked or not', () => {
  const shape = fc.record({ length: fc.integer({ min: 1, max: 9 }), forkAfter: fc.nat(9), branch: fc.nat(3) });
  const order = fc.array(fc.nat(1_000), { minLength: 12, maxLength: 12 });
  fc.assert(
    fc.property(shape, fc.nat(12), fc.boolean(), order, ({ length, forkAfter, branch }, here, isInOrder, by) => {
      const made = entriesOf(length, forkAfter, branch);
      const entries = isInOrder
        ? made
        : made
            .map((e, i) => [by[i]!, e] as const)
            .sort((a, b) => a[0] - b[0])
            .map(([, e]) => e);
      const { device } = made[0]!.entry;
      const further = entries.slice(here).map(({ hash, entry: { seq, prev } }) => ({ hash, seq, prev }));
      const head = logOf(entries.slice(0, here)).headWith(device, further);
      expect(head).toEqual(logOf(entries).head(device));
    }),
    { seed: 20261125, numRuns: 600 },
  );
});
