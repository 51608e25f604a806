import { describe, expect, it } from 'vitest';
import { writeBatch } from '../../shared/sync/batch.ts';
import { syncErrors } from '../../shared/sync/errors.ts';
import {
  ANSWER_WITHIN_ms,
  BATCH_ENTRIES,
  BATCH_LENGTH,
  FIRST_WAIT_ms,
  LONGEST_WAIT_ms,
} from '../../shared/sync/limits.ts';
import type { StoredEntry } from '../../shared/sync/port.ts';
import { deviceNamed } from '../simulation/cheap-entries.ts';
import { grown, OneTablet } from './one-tablet.ts';

const [own, other, third] = [deviceNamed(1), deviceNamed(2), deviceNamed(3)];
const headOf = (entry: StoredEntry): [number, string] => [entry.seq, entry.hash];
/** The entries in the body of a push, by the number in their bodies. */
const pushed = ({ asked }: OneTablet): number[] =>
  asked?.to === 'push'
    ? asked.text
        .split('\n')
        .slice(1, -1)
        .map((line) => JSON.parse(line).body.n)
    : [];
const page = (entries: readonly StoredEntry[], last: number, count = last) =>
  ({ of: 'pull', text: writeBatch(entries), last, count }) as const;

describe('the machine of a tablet', () => {
  it('asks for the heads first, and for nothing more when both have the same', () => {
    const chain = grown(own, 3);
    const tablet = new OneTablet(own, chain).start();
    expect(tablet.asked).toEqual({ to: 'heads' });
    tablet.heads({ [own]: [headOf(chain[2]!)] });
    expect([tablet.asked, tablet.wakesIn_ms, tablet.state.phase.at]).toEqual([null, 5_000, 'idle']);
  });

  it('looks again only when told to, once nobody looks at the screen', () => {
    const tablet = new OneTablet(own);
    tablet.poll_ms = null;
    tablet.start().heads({});
    expect(tablet.effects).toEqual([]);
    expect(tablet.start().asked).toEqual({ to: 'heads' });
  });

  it('sends what the server lacks and nothing else, each chain in its order', () => {
    const [mine, theirs] = [grown(own, 5), grown(other, 3, null, 10)];
    const tablet = new OneTablet(own, [...mine, ...theirs]).start();
    tablet.heads({ [own]: [headOf(mine[2]!)] });
    expect(pushed(tablet)).toEqual([3, 4, 10, 11, 12]);
    expect(tablet.answer({ of: 'push' }).state).toMatchObject({
      phase: { at: 'idle' },
      theirs: { [own]: [headOf(mine[4]!)], [other]: [headOf(theirs[2]!)] },
    });
  });

  it('takes what is lacking here, and looks no further', () => {
    const theirs = grown(other, 4);
    const tablet = new OneTablet(own).start().heads({ [other]: [headOf(theirs[3]!)] });
    expect(tablet.asked).toEqual({ to: 'pull', after: 0, without: own });
    expect(tablet.answer(page(theirs.slice(0, 2), 2, 9)).taken).toEqual(theirs.slice(0, 2));
    expect(tablet.state.cursor).toBe(0);
    expect(tablet.keep().asked).toEqual({ to: 'pull', after: 2, without: own });
    expect(tablet.answer(page(theirs.slice(2), 4, 9)).keep().state).toMatchObject({ cursor: 4, phase: { at: 'idle' } });
  });

  it('sends its own side of a fork, and asks for the other', () => {
    const trunk = grown(own, 3);
    const [here, there] = [grown(own, 2, trunk[2], 10), grown(own, 3, trunk[2], 20)];
    const tablet = new OneTablet(own, [...trunk, ...here]).start().heads({ [own]: [headOf(there[2]!)] });
    expect(tablet.asked).toEqual({ to: 'pull', after: 0, without: null });
    tablet.answer(page([...trunk, ...there], 6)).keep();
    expect(pushed(tablet)).toEqual([10, 11]);
    expect(tablet.answer({ of: 'push' }).state.phase.at).toBe('idle');
  });

  it('goes on along a branch without sending the rest of the fork again', () => {
    const trunk = grown(own, 3);
    const [one, two] = [grown(own, 2, trunk[2], 10), grown(own, 4, trunk[2], 20)];
    const tablet = new OneTablet(own, [...trunk, ...one, ...two]).start();
    tablet.heads({ [own]: [headOf(one[1]!), headOf(two[1]!)] });
    expect(pushed(tablet)).toEqual([22, 23]);
  });

  it.each([
    ['at the limit', BATCH_ENTRIES, [BATCH_ENTRIES]],
    ['one above it', BATCH_ENTRIES + 1, [BATCH_ENTRIES, 1]],
  ])('sends batches of so many entries and no more: %s', (_name, count, sizes) => {
    const tablet = new OneTablet(own, grown(own, count)).start().heads({});
    expect(
      sizes.map(() => {
        const { length } = pushed(tablet);
        tablet.answer({ of: 'push' });
        return length;
      }),
    ).toEqual(sizes);
    expect(tablet.state.phase.at).toBe('idle');
  });

  it('sends batches of so much text and no more, and a longer entry by itself', () => {
    const long = (entries: readonly StoredEntry[], length: number) =>
      entries.map((e) => ({
        ...e,
        text: e.text.replace('{"n"', `{"long":"${'x'.repeat(length - e.text.length - 10)}","n"`),
      }));
    const half = long(grown(own, 3), BATCH_LENGTH / 2);
    expect(half[0]!.text).toHaveLength(BATCH_LENGTH / 2);
    expect(pushed(new OneTablet(own, half).start().heads({}))).toEqual([0, 1]);
    const above = long(grown(own, 3), BATCH_LENGTH / 2 + 1);
    expect(pushed(new OneTablet(own, above).start().heads({}))).toEqual([0]);
    expect(pushed(new OneTablet(own, long(grown(own, 3), 2 * BATCH_LENGTH)).start().heads({}))).toEqual([0]);
  });

  it('takes no notice of an answer that is late, doubled, or to something else', () => {
    const tablet = new OneTablet(own, grown(own, 2)).start();
    const { request } = tablet.state;
    tablet.wake().wake();
    const before = tablet.state;
    tablet.happen({ on: 'answer', request, answer: { of: 'heads', heads: {} } });
    expect(tablet.state).toBe(before);
    tablet.heads({});
    tablet.happen({ on: 'taken', request: tablet.state.request });
    expect(tablet.state.phase.at).toBe('pushing');
    tablet.answer({ of: 'heads', heads: {} });
    expect(tablet.state.phase).toEqual({ at: 'waiting', why: 'unknown-answer' });
  });

  it('looks once more at once when something was saved while it was busy', () => {
    const tablet = new OneTablet(own).start().start();
    expect(tablet.effects).toEqual([]);
    expect(tablet.heads({}).asked).toEqual({ to: 'heads' });
    expect(tablet.heads({}).asked).toBe(null);
  });
});

describe('when something fails, the machine', () => {
  it('takes a request without an answer for lost after a while, and asks anew from the heads', () => {
    const tablet = new OneTablet(own, grown(own, 2)).start();
    expect(tablet.wakesIn_ms).toBe(ANSWER_WITHIN_ms);
    tablet.heads({}).wake();
    expect(tablet.state).toMatchObject({ phase: { at: 'waiting', why: 'no-answer' }, theirs: {} });
    expect(tablet.wake().asked).toEqual({ to: 'heads' });
  });

  it('waits longer after each failure, up to a bound, at least half of it and by chance', () => {
    const tablet = new OneTablet(own).start();
    const waits = Array.from({ length: 12 }, () => {
      const wait = tablet.wake().wakesIn_ms!;
      tablet.wake();
      return wait;
    });
    expect(waits.slice(0, 4)).toEqual([1, 2, 4, 8].map((f) => (f * FIRST_WAIT_ms) / 2));
    expect(waits.at(-1)).toBe(LONGEST_WAIT_ms / 2);
    tablet.random = 0.999;
    expect(tablet.wake().wakesIn_ms).toBeCloseTo(LONGEST_WAIT_ms, -3);
    expect(tablet.start().heads({}).start().wake().wakesIn_ms).toBeLessThanOrEqual(FIRST_WAIT_ms);
  });

  it('waits as long as the server asks, and a save does not cut that short', () => {
    const tablet = new OneTablet(own).start().refuse('too-many-requests', { retryAfter: 40 });
    expect(tablet.wakesIn_ms).toBe(40_000);
    expect(tablet.start().asked).toBe(null);
    expect(tablet.wake().asked).toEqual({ to: 'heads' });
  });

  it('tries again at once when something is saved while it waits for a network', () => {
    expect(new OneTablet(own).start().wake().start().asked).toEqual({ to: 'heads' });
  });

  it('says that it must join anew, and tries seldom', () => {
    const tablet = new OneTablet(own).start().refuse('bad-token');
    expect(tablet.state.phase).toEqual({ at: 'waiting', why: 'bad-token' });
    expect(tablet.wakesIn_ms).toBeGreaterThanOrEqual(LONGEST_WAIT_ms / 2);
  });

  it('sends less when a batch is too large, and names a chain whose single entry is', () => {
    const tablet = new OneTablet(own, [...grown(own, 3), ...grown(other, 1, null, 10)]).start().heads({});
    expect(pushed(tablet)).toEqual([0, 1, 2, 10]);
    expect(pushed(tablet.refuse('batch-too-large'))).toEqual([0, 1]);
    expect(pushed(tablet.refuse('body-too-large'))).toEqual([0]);
    expect(pushed(tablet.refuse('body-too-large'))).toEqual([10]);
    expect(tablet.state.resting).toMatchObject({ [own]: { why: 'body-too-large' } });
  });

  it('finds the chain that is refused, lets it rest, and carries the others', () => {
    const tablet = new OneTablet(own, [...grown(own, 2), ...grown(other, 2, null, 10), ...grown(third, 2, null, 20)]);
    tablet.start().heads({});
    expect(pushed(tablet)).toHaveLength(6);
    expect(pushed(tablet.refuse('wrong-hash'))).toEqual([0, 1]);
    expect(pushed(tablet.answer({ of: 'push' }))).toEqual([10, 11]);
    expect(pushed(tablet.refuse('wrong-hash'))).toEqual([20, 21]);
    tablet.answer({ of: 'push' });
    expect(tablet.state).toMatchObject({ phase: { at: 'idle' }, resting: { [other]: { why: 'wrong-hash' } } });
    const had = { [own]: tablet.state.theirs![own]!, [third]: tablet.state.theirs![third]! };
    const tries = Array.from({ length: 12 }, () => {
      tablet.wake().answer({ of: 'heads', heads: had });
      const sent = pushed(tablet).length;
      if (sent > 0) tablet.refuse('wrong-hash');
      return sent;
    });
    expect(tries.filter((n) => n > 0)).toHaveLength(2);
  });

  it('rests at once the chain that a refusal names', () => {
    const tablet = new OneTablet(own, [...grown(own, 2), ...grown(other, 2, null, 10)]).start().heads({});
    expect(pushed(tablet.refuse('refused-entry', { device: own }))).toEqual([10, 11]);
    expect(Object.keys(tablet.state.resting)).toEqual([own]);
  });

  it('asks for the heads anew after a gap, and rests the chain when it is met again', () => {
    const tablet = new OneTablet(own, grown(own, 2)).start().heads({}).refuse('gap', { device: own });
    expect(tablet.state.phase).toEqual({ at: 'waiting', why: 'gap' });
    tablet.wake().heads({}).refuse('gap', { device: own });
    expect(tablet.state).toMatchObject({ phase: { at: 'idle' }, resting: { [own]: { why: 'gap' } } });
  });

  it('sends again what a server lost that was put back to an old backup', () => {
    const chain = grown(own, 4);
    const tablet = new OneTablet(own, chain).start().heads({ [own]: [headOf(chain[3]!)] });
    expect(pushed(tablet.wake().heads({ [own]: [headOf(chain[0]!)] }))).toEqual([1, 2, 3]);
  });

  it('looks through all arrivals again when a head stays missing, and not in every pass when that does not help', () => {
    const chain = grown(other, 3);
    const tablet = new OneTablet(own);
    tablet.state = { ...tablet.state, cursor: 90 };
    tablet.start().heads({ [other]: [headOf(chain[2]!)] });
    expect(tablet.answer(page([], 90)).keep().asked).toEqual({ to: 'pull', after: 0, without: own });
    tablet.answer(page(chain.slice(0, 2), 90)).keep();
    expect([tablet.state.phase.at, tablet.state.sweep.rest]).toEqual(['idle', 4]);
    tablet.wake().heads({ [other]: [headOf(chain[2]!)] });
    expect(tablet.answer(page([], 90)).keep().state.phase.at).toBe('idle');
    tablet.wake().heads({ [other]: [headOf(chain[1]!)] });
    expect(tablet.state.sweep.rest).toBe(0);
  });

  it('does not ask for ever a server that has more and gives nothing', () => {
    const tablet = new OneTablet(own).start().heads({ [other]: [headOf(grown(other, 1)[0]!)] });
    expect(tablet.answer(page([], 0, 5)).state.phase).toEqual({ at: 'waiting', why: 'unknown-answer' });
  });

  it('keeps the sound chains of an answer and names the others', () => {
    const [good, bad] = [grown(other, 2), grown(third, 2, null, 10)];
    const tablet = new OneTablet(own).start().heads({ [other]: [headOf(good[1]!)], [third]: [headOf(bad[1]!)] });
    const { text, ...rest } = page([...good, ...bad], 4);
    tablet.answer({ ...rest, text: text.replace('"n":10', '"n":99') });
    expect(tablet.taken).toEqual(good);
    expect(tablet.state.unsound).toEqual([third]);
  });

  it('keeps its place when the storage here is full, and tries again', () => {
    const chain = grown(other, 2);
    const tablet = new OneTablet(own).start().heads({ [other]: [headOf(chain[1]!)] });
    tablet.answer(page(chain, 2)).happen({ on: 'not-taken', request: tablet.state.request });
    expect(tablet.state).toMatchObject({ cursor: 0, phase: { at: 'waiting', why: 'storage-full' } });
    expect(tablet.wake().heads({ [other]: [headOf(chain[1]!)] }).asked).toEqual({ to: 'pull', after: 0, without: own });
  });

  it.each([...Object.keys(syncErrors), 'a-code-of-a-later-server'])('outlives %s at every point', (code) => {
    const chains = [...grown(own, 2), ...grown(other, 2, null, 10)];
    const lacking = { [third]: [headOf(grown(third, 1)[0]!)] };
    for (const point of ['heads', 'push', 'pull'] as const) {
      const tablet = new OneTablet(own, point === 'pull' ? [] : chains).start();
      if (point !== 'heads') tablet.heads(lacking);
      expect(tablet.asked!.to).toBe(point);
      for (let tries = 0; tries < 40 && tablet.asked; tries++) tablet.refuse(code);
      expect(['waiting', 'idle', 'pulling']).toContain(tablet.state.phase.at);
      expect(tablet.wakesIn_ms).toBeGreaterThan(0);
    }
  });
});
