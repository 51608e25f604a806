import { describe, expect, it } from 'vitest';
import { type Entry, entryHash } from '../../shared/logbook/entry.ts';
import { faultWords } from '../../shared/logbook/faults.ts';
import { Standing } from '../../shared/logbook/standing.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { smallPlan } from './small-plan.ts';
import {
  type Line,
  lead,
  logOf,
  quality,
  reading,
  TestTablet as Tablet,
  type TestTablet,
  tablets,
  technician,
} from './world.ts';

const two = () => tablets(['T1', 'T2']) as [TestTablet, TestTablet];
const faultOf = (casting: string, lines: Iterable<Line>, hash: string) => {
  const log = logOf(casting, lines);
  return new Standing(log).faultOf(log.get(hash)!);
};
const changed = (line: Line, change: Partial<Entry>): Line => {
  const entry = { ...line.entry, ...change };
  return { ...line, entry, hash: entryHash(entry) };
};

describe('what counts', () => {
  it('leaves out everything behind a missing entry until it arrives', () => {
    const [a] = two();
    const first = a.write('reading', reading('a', 100), technician, 5);
    const second = a.write('reading', reading('b', 100), technician, 6);
    const without = a.lines.filter((l) => l !== first);
    expect(faultOf(a.casting, without, second.hash)).toBe('gap');
    expect(faultOf(a.casting, [...without, first], second.hash)).toBeNull();
  });

  it('does not link an entry whose bytes were changed, and names those behind it', () => {
    const [a] = two();
    const first = a.write('reading', reading('a', 102), technician, 5);
    const second = a.write('reading', reading('b', 100), technician, 6);
    const forged = changed(first, { body: { ...first.entry.body, value: 100 } });
    const lines = a.lines.map((l) => (l === first ? forged : l));
    expect(faultOf(a.casting, lines, second.hash)).toBe('gap');
  });

  it('keeps both branches of a copied tablet out until a keeper adopts one, and the common part in', () => {
    const [a, b] = two();
    const common = b.write('reading', reading('a', 100), technician, 5);
    const own = b.write('reading', reading('b', 100), technician, 6);
    const copied = changed(own, { body: { ...own.entry.body, value: 99.5 } });
    const lines = [...a.lines, ...b.lines, copied];
    expect([common, own, copied].map((l) => faultOf(a.casting, lines, l.hash))).toEqual([null, 'fork', 'fork']);
    a.merge(b);
    a.write('adoption', { device: b.device, hash: copied.hash, reason: 'the copy went on' }, lead, 9);
    const adopted = [...a.lines, ...b.lines, copied];
    expect([common, own, copied].map((l) => faultOf(a.casting, adopted, l.hash))).toEqual([null, 'fork', null]);
  });

  it('keeps entries of a tablet that no keeper admitted, as no evidence', () => {
    const [a] = two();
    const stranger = new Tablet('T9', a.casting);
    stranger.merge(a);
    const line = stranger.write('reading', reading('a', 100), technician, 5);
    expect(faultOf(a.casting, [...a.lines, line], line.hash)).toBe('tablet-not-admitted');
    a.write('device', { device: stranger.device, key: stranger.key, name: 'T9' }, lead, 9);
    expect(faultOf(a.casting, [...a.lines, line], line.hash)).toBeNull();
  });

  it('does not admit anybody by the word of someone who is no keeper', () => {
    const [a] = two();
    const friend = { id: 'f'.repeat(32), name: 'Friend', roles: ['quality' as const] };
    const line = a.write('person', { person: friend.id, name: friend.name, roles: [...friend.roles] }, technician, 5);
    const note = a.write('note', { text: 'hello' }, friend, 6);
    expect(faultOf(a.casting, a.lines, line.hash)).toBe('role-missing');
    expect(faultOf(a.casting, a.lines, note.hash)).toBe('person-not-admitted');
  });

  it('does not take a signature of a key that nobody vouched for, a wrong one, or none', () => {
    const [a] = two();
    const target = a.write('reading', reading('a', 100), technician, 5);
    const strike = { target: target.hash, reason: 'mistyped' };
    const unsigned = a.write('strike', strike, technician, 6, 'none');
    const wrong = a.write('strike', strike, technician, 7, 'bad');
    const good = a.write('strike', strike, technician, 8);
    const foreign = changed(good, { signature: { ...good.entry.signature!, key: `04${'7'.repeat(128)}` } });
    expect([unsigned, wrong, good].map((l) => faultOf(a.casting, a.lines, l.hash))).toEqual([
      'not-signed',
      'signature-wrong',
      null,
    ]);
    expect(faultOf(a.casting, [...a.lines.slice(0, -1), foreign], foreign.hash)).toBe('key-not-vouched');
  });

  it('takes what a retired tablet had written before the keeper retired it, and nothing later', () => {
    const [a, b] = two();
    const before = b.write('reading', reading('a', 100), technician, 5);
    a.merge(b);
    a.write('retirement', { device: b.device, reason: 'lost' }, lead, 6);
    const after = b.write('reading', reading('b', 100), technician, 7);
    const lines = [...a.lines, ...b.lines];
    expect([before, after].map((l) => faultOf(a.casting, lines, l.hash))).toEqual([null, 'tablet-retired']);
  });

  it('does not take a release by a person whose role its tablet did not know', () => {
    const [a, b] = two();
    const body = {
      hold: 'H1',
      plan: planHashOf(smallPlan),
      evidence: [],
      evidenceHash: '0'.repeat(64),
      meaning: 'seen',
      name: 'Quality',
      role: 'quality' as const,
    };
    a.write('person', { person: quality.id, name: quality.name, roles: ['technician'] }, lead, 5);
    const unaware = b.write('release', body, quality, 6);
    b.merge(a);
    const aware = b.write('release', body, quality, 7);
    const lines = [...a.lines, ...b.lines];
    expect([unaware, aware].map((l) => faultOf(a.casting, lines, l.hash))).toEqual([null, 'role-missing']);
  });

  it('keeps and shows an entry of a newer kind, and lets nobody sign over it', () => {
    const [a] = two();
    const last = a.lines.at(-1)!.entry;
    const { signature: _, ...rest } = last;
    const entry: Entry = {
      ...rest,
      seq: last.seq + 1,
      prev: entryHash(last),
      seen: {},
      kind: 'from-a-later-build',
      body: {},
    };
    const line = a.keep({ entry, hash: entryHash(entry), signature: 'none' });
    expect(faultOf(a.casting, a.lines, line.hash)).toBe('unknown-kind');
  });

  it('comes to an end when two keepers retire each other without knowing it', () => {
    const [a, b] = two();
    a.write('person', { person: quality.id, name: quality.name, roles: ['quality', 'keeper'] }, lead, 4);
    b.merge(a);
    const one = a.write('retirement', { person: quality.id, reason: 'a quarrel' }, lead, 5);
    const other = b.write('retirement', { person: lead.id, reason: 'a quarrel' }, quality, 5);
    const lines = [...a.lines, ...b.lines];
    const forward = [one, other].map((l) => faultOf(a.casting, lines, l.hash));
    expect([one, other].map((l) => faultOf(a.casting, [...lines].reverse(), l.hash))).toEqual(forward);
  });

  it('has plain words for every fault', () => {
    for (const words of Object.values(faultWords)) expect(words).toMatch(/^[A-Z].+\.$/);
  });
});

describe('plan revisions', () => {
  const revised = (revision: string) => JSON.parse(JSON.stringify({ ...smallPlan, revision }));
  const engineer = { ...lead, roles: ['crew-lead' as const, 'keeper' as const, 'process-engineer' as const] };
  const withEngineer = () => {
    const [a, b] = two();
    a.write('person', { person: lead.id, name: lead.name, roles: [...engineer.roles] }, lead, 4);
    b.merge(a);
    return [a, b] as const;
  };

  it('come into force when an engineer signs a child of the one in force', () => {
    const [a] = withEngineer();
    expect(a.view().plan.revision).toBe('A');
    a.write('plan', { plan: revised('B'), parents: [planHashOf(smallPlan)] }, engineer, 5);
    expect(a.view().plan.revision).toBe('B');
  });

  it('leave the parent in force while two children stand, until a revision names both', () => {
    const [a, b] = withEngineer();
    const parents = [planHashOf(smallPlan)];
    a.write('plan', { plan: revised('B'), parents }, engineer, 5);
    b.write('plan', { plan: revised('C'), parents }, engineer, 5);
    a.merge(b);
    expect(a.view().plan.revision).toBe('A');
    a.write('plan', { plan: revised('D'), parents: [planHashOf(revised('B')), planHashOf(revised('C'))] }, engineer, 6);
    expect(a.view().plan.revision).toBe('D');
  });
});
