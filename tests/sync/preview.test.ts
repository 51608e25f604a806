import { describe, expect, it } from 'vitest';
import { type Entry, entryHash } from '../../shared/logbook/entry.ts';
import { branchesOf, tabletLines } from '../../shared/logbook/state/branches.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { doubtWords } from '../../shared/logbook/state/doubt-words.ts';
import { releaseKnowledge } from '../../shared/logbook/state/release-knowledge.ts';
import { viewOf } from '../../shared/logbook/state/view.ts';
import { lacking } from '../../shared/sync/lacking.ts';
import { type Preview, previewOf } from '../../shared/sync/preview.ts';
import { knowledgeWords, knowledgeWordsNow } from '../../src/tablet/shared-screens/knowledge-words.ts';
import {
  type Line,
  lead,
  logOf,
  quality,
  reading,
  releaseBody,
  sheet,
  type TestTablet,
  tablets,
  technician,
} from '../logbook/world.ts';

const NOON = Date.UTC(2026, 2, 1, 12);

function ready(tablet: TestTablet): Line[] {
  for (const operation of ['1', '2']) {
    tablet.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
    tablet.write('operation', { operation, mark: 'finished' }, lead, 20);
  }
  return ['a', 'b', 'c'].map((s) => tablet.write('reading', reading(s, 100), technician, 15));
}

function signAll(tablet: TestTablet, minute: number): Line[] {
  return [
    tablet.write('release', releaseBody(tablet, lead.name, 'crew-lead'), lead, minute),
    tablet.write('release', releaseBody(tablet, quality.name, 'quality'), quality, minute + 1),
  ];
}

/** What one tablet would see of lines before it takes them in. */
function preview(here: TestTablet, lines: readonly Line[]): Preview {
  const log = logOf(
    here.casting,
    [...here.lines, ...lines].filter((l, i, all) => all.indexOf(l) === i),
  );
  for (const kept of here.log.all()) log.add(kept.entry, kept.hash, kept.signature);
  const after = viewOf(log, judge)!;
  const fresh = lines.filter((l) => !here.log.get(l.hash)).map((l) => log.get(l.hash)!);
  return previewOf(here.view(), after, fresh, NOON);
}

const changed = (line: Line, change: Partial<Entry>): Line => {
  const entry = { ...line.entry, ...change };
  return { ...line, entry, hash: entryHash(entry) };
};

describe('what a file would change', () => {
  it('says which hold point would fall into doubt, by which entry, tablet and person; nothing is written', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const [first] = ready(a);
    b.merge(a);
    b.write('strike', { target: first!.hash, reason: 'mistyped' }, technician, 25);
    signAll(a, 30);
    const before = a.log.size;
    const said = preview(a, b.lines);
    expect(said).toMatchObject({
      count: 1,
      tablets: [{ device: b.device, count: 1, from: 1, to: 1 }],
      kinds: [{ kind: 'strike', count: 1 }],
      people: [{ person: technician.id, count: 1 }],
      uncounted: [],
    });
    expect(said.doubts.map((d) => d.hold)).toEqual(['H1']);
    a.merge(b);
    expect(doubtWords(a.view(), said.doubts[0]!.doubts[0]!)).toBe(
      'Struck by Technician, on T2, not seen when it was signed: reading of width at station a by Technician, on T1',
    );
    expect(before).toBe(a.log.size - 1);
  });

  it('foresees no doubt from what was written in knowledge of the release, and the finding that it brings', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const [first] = ready(a);
    signAll(a, 30);
    b.merge(a);
    b.write('reading', reading('a', 103, technician, first!.hash), technician, 60);
    const said = preview(a, b.lines);
    expect(said.doubts).toEqual([]);
    expect(said.arise.map((f) => f.rule)).toContain('outside');
  });

  it('names gap, fork, unknown kind, a tablet not admitted and a forged signature', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const one = b.write('reading', reading('a', 100), technician, 5);
    const two = b.write('reading', reading('b', 100), technician, 6);
    const faults = (lines: readonly Line[]) => preview(a, lines).uncounted.map((u) => [u.fault, u.count]);
    expect(faults([two])).toEqual([['gap', 1]]);
    const copy = changed(two, { body: { ...two.entry.body, value: 99 } });
    expect(faults([one, two, copy])).toEqual([['fork', 2]]);
    expect(preview(a, [one, two, copy]).forks).toEqual([{ device: b.device, seq: 2 }]);
    expect(faults([one, changed(two, { kind: 'of-a-later-build' })])).toEqual([['unknown-kind', 1]]);
    expect(faults([changed(one, { device: 'd'.repeat(32) })])).toEqual([['tablet-not-admitted', 1]]);
    const forged = b.write('strike', { target: one.hash, reason: 'mistyped' }, technician, 7, 'bad');
    expect(faults([one, two, forged])).toEqual([['signature-wrong', 1]]);
  });
});

describe('what another tablet lacks', () => {
  it('is everything that its last entry here had not seen, its own chain apart', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    b.write('note', { text: 'hello' }, technician, 5);
    a.merge(b);
    const later = [a.write('note', { text: 'one' }, technician, 6), a.write('note', { text: 'two' }, technician, 7)];
    expect(
      lacking(a.view(), b.device)
        .map((k) => k.hash)
        .sort(),
    ).toEqual(later.map((l) => l.hash).sort());
    expect(lacking(a.view(), 'e'.repeat(32))).toHaveLength(a.log.size);
  });
});

describe('how much a release knew', () => {
  it('counts the admitted tablets that it had entries of, and says until when', () => {
    const [a, b] = tablets(['T1', 'T2', 'T3']) as [TestTablet, TestTablet];
    ready(a);
    b.write('note', { text: 'hello' }, technician, 25);
    a.merge(b);
    const [release] = signAll(a, 40);
    const known = releaseKnowledge(a.view(), a.log.get(release!.hash) as never);
    expect([known.known, known.admitted, known.by]).toEqual([2, 3, '2026-03-01T00:25:00.000Z']);
    expect(known.tablets.find((t) => t.name === 'T3')).toMatchObject({ entries: 0, until: null });
    expect(knowledgeWords(a.view(), a.log.get(release!.hash) as never)).toBe(
      'from what 2 of 3 admitted tablets had written by 00:25',
    );
  });

  it('is said the same before it is signed, of all that the tablet has by then', () => {
    const [a, b, c] = tablets(['T1', 'T2', 'T3']) as [TestTablet, TestTablet, TestTablet];
    ready(a);
    const at = (minute: number) => new Date(Date.UTC(2026, 2, 1, 0, minute));
    expect(knowledgeWordsNow(a.view(), a.device, at(30))).toBe(
      'from what 1 of 3 admitted tablets had written by 00:30',
    );
    b.write('note', { text: 'hello' }, technician, 25);
    a.merge(b);
    expect(knowledgeWordsNow(a.view(), a.device, at(30))).toBe(
      'from what 2 of 3 admitted tablets had written by 00:25',
    );
    // A tablet that is retired is not asked for, and one that has written since is known by that.
    a.write('retirement', { device: c.device, reason: 'dropped' }, lead, 31);
    expect(knowledgeWordsNow(a.view(), a.device, at(32))).toBe(
      'from what 2 of 2 admitted tablets had written by 00:25',
    );
    const [release] = signAll(a, 40);
    expect(knowledgeWords(a.view(), a.log.get(release!.hash) as never)).toBe(
      'from what 2 of 2 admitted tablets had written by 00:25',
    );
  });
});

describe('what lies beside the log', () => {
  it('is said not to come: photos and logger files that only the fresh entries name', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const picture = (c: string) => ({ hash: c.repeat(64), bytes: 1000, width: 4, height: 3 });
    const photo = (c: string) => ({ ...picture(c), type: 'image/jpeg' as const, small: picture(c) });
    b.write('note', { text: 'seen', photos: [photo('a')] }, technician, 5);
    a.merge(b);
    const fresh = [
      b.write('note', { text: 'again, and another', photos: [photo('a'), photo('b')] }, technician, 6),
      b.write('note', { text: 'no photo' }, technician, 7),
    ];
    expect(preview(a, fresh).apart).toEqual({ photos: 1, files: 0 });
    expect(preview(a, fresh.slice(1)).apart).toEqual({ photos: 0, files: 0 });
  });
});

describe('a fork', () => {
  it('is listed by branches, and says which a keeper has adopted', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    b.write('note', { text: 'common' }, technician, 5);
    const own = b.write('note', { text: 'own' }, technician, 6);
    const copy = changed(own, { body: { text: 'copy' } });
    a.merge(b);
    a.log.add(copy.entry, copy.hash, 'none');
    expect(branchesOf(a.view(), b.device).map((x) => [x.entries.length, x.adopted])).toEqual([
      [1, 0],
      [1, 0],
    ]);
    expect(tabletLines(a.view()).find((t) => t.device === b.device)).toMatchObject({ entries: 1, forkedAt: 2 });
    a.write('adoption', { device: b.device, hash: copy.hash, reason: 'the copy went on' }, lead, 9);
    const adopted = branchesOf(a.view(), b.device).map((x) => [x.tip.hash === copy.hash, x.adopted]);
    expect(adopted).toContainEqual([true, 1]);
    expect(adopted).toContainEqual([false, 0]);
  });
});
