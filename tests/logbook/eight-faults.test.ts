import { describe, expect, it } from 'vitest';
import { type Entry, entryHash } from '../../shared/logbook/entry.ts';
import type { Role } from '../../shared/logbook/kinds.ts';
import type { Fault } from '../../shared/logbook/standing.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { stationStates } from '../../shared/logbook/state/readings.ts';
import { signingObstacles } from '../../shared/logbook/state/signing-obstacles.ts';
import { chainFaults, uncountedAt } from '../../shared/logbook/state/uncounted.ts';
import { smallPlan } from './small-plan.ts';
import {
  type Line,
  lead,
  quality,
  reading,
  releaseBody,
  sheet,
  type TestPerson,
  type TestTablet,
  tablets,
  technician,
} from './world.ts';

/**
 * What must be detected, named, kept out of the certified state, and leave the rest usable: each alone, beside the same
 * without the fault, which is released. All eight on the screens of one tablet: tests/browser/faults-by-file.test.ts.
 */
const hold = smallPlan.holds[0]!;
const state = (tablet: TestTablet) => holdState(tablet.view(), hold);
const SIGNERS = [
  [lead, 'crew-lead'],
  [quality, 'quality'],
] as const satisfies readonly (readonly [TestPerson, Role])[];

const sign = (tablet: TestTablet, person: TestPerson, role: Role, sound: 'good' | 'bad' = 'good'): Line =>
  tablet.write('release', releaseBody(tablet, person.name, role), person, 40, sound);

/** Two tablets with all done but what the second hands on: its reading, or its signature beside the lead's. */
function hall(wanted: 'reading' | 'signature'): [TestTablet, TestTablet] {
  const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
  for (const operation of ['1', '2']) {
    a.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
    a.write('operation', { operation, mark: 'finished' }, lead, 20);
  }
  for (const station of wanted === 'reading' ? ['a', 'b'] : ['a', 'b', 'c'])
    a.write('reading', reading(station, 100), technician, 15);
  if (wanted === 'signature') sign(a, lead, 'crew-lead');
  b.merge(a);
  return [a, b];
}

/** Takes lines in one after the other; the tablet has seen each head that there was, also one that forks later. */
function take(tablet: TestTablet, from: TestTablet, lines: readonly Line[]): void {
  for (const { entry, hash, signature } of lines) {
    tablet.log.add(entry, hash, signature);
    const head = tablet.log.head(from.device);
    if (!head) continue;
    tablet.seen = { ...tablet.seen, [from.device]: head };
    tablet.write('note', { text: 'taken in' }, technician, 18);
  }
}

/** Everyone signs whom the app lets. */
function signAll(tablet: TestTablet): void {
  for (const [person, role] of SIGNERS)
    if (signingObstacles(tablet.view(), state(tablet), person.id, role).length === 0) sign(tablet, person, role);
}

const changed = (line: Line, change: Partial<Entry>): Line => {
  const entry = { ...line.entry, ...change };
  return { ...line, entry, hash: entryHash(entry) };
};

/** The reading that is missing, and a note behind it. */
const measured = (b: TestTablet): [Line, Line] => [
  b.write('reading', reading('c', 100), technician, 16),
  b.write('note', { text: 'measured again tomorrow' }, technician, 17),
];

interface Case {
  readonly name: string;
  readonly fault: Fault;
  /** Whether the fault lies in evidence, which then lacks and which everybody might sign over, or in a signature. */
  readonly in: 'reading' | 'signature';
  readonly sound: (a: TestTablet, b: TestTablet) => readonly Line[];
  readonly faulty: (a: TestTablet, b: TestTablet) => readonly Line[];
  /** What makes it good; left out where this build cannot. */
  readonly mend?: (a: TestTablet, b: TestTablet) => void;
}

const signedOnB = (_: TestTablet, b: TestTablet) => [sign(b, quality, 'quality')];
const signsHere = (a: TestTablet) => void sign(a, quality, 'quality');

const cases: readonly Case[] = [
  {
    name: 'a forged entry',
    fault: 'signature-wrong',
    in: 'signature',
    sound: signedOnB,
    faulty: (_, b) => [sign(b, quality, 'quality', 'bad')],
    mend: signsHere,
  },
  {
    name: 'a changed byte',
    fault: 'gap',
    in: 'reading',
    sound: (_, b) => measured(b),
    faulty: (_, b) => {
      const [first, second] = measured(b);
      return [changed(first, { body: { ...first.entry.body, value: 100.5 } }), second];
    },
    // The true entry comes beside the changed one: a keeper says which.
    mend: (a, b) => {
      const [first, second] = b.lines.slice(-2) as [Line, Line];
      take(a, b, [first]);
      a.write('adoption', { device: b.device, hash: second.hash, reason: 'the other was changed' }, lead, 30);
    },
  },
  {
    name: 'a missing entry',
    fault: 'gap',
    in: 'reading',
    sound: (_, b) => measured(b),
    faulty: (_, b) => measured(b).slice(1),
    mend: (a, b) => take(a, b, b.lines.slice(-2)),
  },
  {
    name: 'a cloned tablet',
    fault: 'fork',
    in: 'reading',
    sound: (_, b) => measured(b),
    faulty: (_, b) => {
      const [first] = measured(b);
      return [first, changed(first, { body: { ...first.entry.body, value: 99.5 } })];
    },
    mend: (a, b) => {
      const [first] = b.lines.slice(-2) as [Line, Line];
      a.write('adoption', { device: b.device, hash: first.hash, reason: 'the copy was not used' }, lead, 30);
    },
  },
  {
    name: 'an unknown kind',
    fault: 'unknown-kind',
    in: 'reading',
    sound: (_, b) => measured(b),
    faulty: (_, b) => {
      const [first, second] = measured(b);
      return [first, changed(second, { kind: 'from-a-later-build' })];
    },
  },
  {
    name: 'a role missing',
    fault: 'role-missing',
    in: 'signature',
    sound: signedOnB,
    faulty: (_, b) => [sign(b, technician, 'quality')],
    mend: signsHere,
  },
  {
    name: 'a key retired',
    fault: 'key-retired',
    in: 'signature',
    sound: signedOnB,
    faulty: (a, b) => {
      const release = sign(b, quality, 'quality');
      a.write('retirement', { key: release.entry.signature!.key, reason: 'the tablet was left open' }, lead, 45);
      return [release];
    },
    mend: signsHere,
  },
];

describe.each(cases)('$name', ({ fault, in: part, sound, faulty, mend }) => {
  const taken = (lines: Case['sound']): [TestTablet, TestTablet] => {
    const [a, b] = hall(part);
    take(a, b, lines(a, b));
    if (part === 'reading') signAll(a);
    return [a, b];
  };

  it('is all that keeps the hold point from being released', () => {
    expect(state(taken(sound)[0]).status).toBe('released');
    expect(state(taken(faulty)[0]).status).not.toBe('released');
  });

  it('is detected and named, with the tablet that it is of', () => {
    const [a, b] = taken(faulty);
    const told = chainFaults(a.view()).get(b.device) ?? [];
    expect(told.map((f) => f.fault)).toEqual([fault]);
    if (part === 'signature') expect(uncountedAt(a.view(), hold).map((u) => u.fault)).toEqual([fault]);
    else
      expect(
        state(a)
          .missing.map((c) => c.words)
          .join('; '),
      ).toMatch(/T2|newer kind/);
  });

  it('is no evidence and no signature, and nobody signs over it', () => {
    const [a, b] = taken(faulty);
    const { evidence, signatures } = state(a);
    const bad = chainFaults(a.view())
      .get(b.device)!
      .map((f) => f.first.hash);
    expect(evidence.filter((hash) => bad.includes(hash))).toEqual([]);
    expect(signatures.filter((s) => bad.includes(s.release.hash))).toEqual([]);
    if (part === 'signature') return;
    for (const [person, role] of SIGNERS) expect(signingObstacles(a.view(), state(a), person.id, role)).not.toEqual([]);
  });

  it('leaves the rest usable, and can be made good', () => {
    const [a, b] = taken(faulty);
    const stations = stationStates(a.view(), '2', 'width');
    expect(['a', 'b'].map((station) => stations.get(station)?.verdict)).toEqual(['within', 'within']);
    const note = a.write('note', { text: 'work goes on' }, technician, 50);
    expect(a.view().standing.counts(a.log.get(note.hash)!)).toBe(true);
    if (!mend) return;
    mend(a, b);
    if (part === 'reading') signAll(a);
    expect(state(a).status).toBe('released');
  });
});

describe('a release by those who measured, alone', () => {
  /** Readings of all three stations by these, signed by both without asking. */
  const signedBy = (...observers: readonly TestPerson[]): TestTablet => {
    const [a] = hall('reading');
    observers.forEach((observer, k) => {
      const [now] = stationStates(a.view(), '2', 'width').get('abc'[k]!)?.current ?? [];
      a.write('reading', reading('abc'[k]!, 100, observer, now?.hash), observer, 25);
    });
    for (const [person, role] of SIGNERS) sign(a, person, role);
    return a;
  };

  it('does not release it, says why, and lets a signer who measured nothing do so', () => {
    expect(state(signedBy(technician, quality, technician)).status).toBe('released');
    const a = signedBy(lead, quality, technician);
    const { status, unsound, missing, rolesOpen } = state(a);
    expect([status, unsound, missing, rolesOpen]).toEqual([
      'ready',
      'nobody-independent',
      [],
      ['crew-lead', 'quality'],
    ]);
    expect(signingObstacles(a.view(), state(a), technician.id, 'quality')).toContain(
      'At least one signer must have taken none of the measurements.',
    );
    const auditor: TestPerson = { id: 'e'.repeat(32), name: 'Auditor', roles: ['quality'] };
    const key = `04${'5'.repeat(128)}`;
    a.write('person', { person: auditor.id, name: auditor.name, roles: ['quality'] }, lead, 50);
    a.write('key', { person: auditor.id, key, device: a.device }, lead, 51);
    expect(signingObstacles(a.view(), state(a), auditor.id, 'quality')).toEqual([]);
  });
});
