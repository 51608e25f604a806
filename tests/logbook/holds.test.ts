import { describe, expect, it } from 'vitest';
import { entryHash } from '../../shared/logbook/entry.ts';
import { faultWords } from '../../shared/logbook/faults.ts';
import type { Body, Role } from '../../shared/logbook/kinds.ts';
import { agreementWords } from '../../shared/logbook/state/concession.ts';
import { blockingFindings } from '../../shared/logbook/state/conditions.ts';
import { doubtWords } from '../../shared/logbook/state/doubt-words.ts';
import { ownerOf } from '../../shared/logbook/state/finding-owner.ts';
import { findings } from '../../shared/logbook/state/findings.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { signingObstacles, unsoundWords } from '../../shared/logbook/state/signing-obstacles.ts';
import { chainFaults, uncountedAt } from '../../shared/logbook/state/uncounted.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import { smallPlan } from './small-plan.ts';
import {
  type Line,
  lead,
  lineOf,
  personKey,
  quality,
  reading,
  releaseBody,
  sheet,
  type TestPerson,
  type TestTablet,
  tablets,
  technician,
} from './world.ts';

const hold = smallPlan.holds[0]!;
const state = (tablet: TestTablet) => holdState(tablet.view(), hold);

function fillSheets(tablet: TestTablet): void {
  for (const operation of ['1', '2']) {
    tablet.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
    tablet.write('operation', { operation, mark: 'finished' }, lead, 20);
  }
}

const measure = (tablet: TestTablet, values: Record<string, number>): Line[] =>
  Object.entries(values).map(([station, value]) => tablet.write('reading', reading(station, value), technician, 15));

const sign = (tablet: TestTablet, person: TestPerson, role: Role, minute = 30): Line =>
  tablet.write('release', releaseBody(tablet, person.name, role), person, minute);

function signAll(tablet: TestTablet): void {
  sign(tablet, lead, 'crew-lead');
  sign(tablet, quality, 'quality', 31);
}

const within = { a: 100, b: 100.1, c: 99.9 };

describe('a hold point', () => {
  it('is open and says what is missing, in words', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    measure(tablet, { a: 100 });
    const s = state(tablet);
    expect(s.status).toBe('open');
    expect(s.missing.map((c) => c.id)).toEqual(['finished', 'sheet/1', 'sheet/2', 'characteristic/2/width']);
    expect(s.missing.at(-1)!.words).toBe('1 within, 2 not measured');
    expect(s.missing.at(-1)!.mend).toEqual({ to: 'survey', operation: '2', characteristic: 'width', station: 'b' });
  });

  it('is ready when everything stands, and released by all roles', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    fillSheets(tablet);
    measure(tablet, within);
    expect(state(tablet).status).toBe('ready');
    sign(tablet, lead, 'crew-lead');
    expect(state(tablet).rolesOpen).toEqual(['quality']);
    expect(state(tablet).status).toBe('ready');
    sign(tablet, quality, 'quality');
    expect(state(tablet).status).toBe('released');
  });

  it('does not take one person for two roles, nor a release without an independent signer', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    fillSheets(tablet);
    measure(tablet, within);
    sign(tablet, lead, 'crew-lead');
    expect(signingObstacles(tablet.view(), state(tablet), lead.id, 'quality')).toContain(
      'One person signs once; the roles are for different persons.',
    );
    // Quality took a measurement, and the lead wrote one: nobody is independent.
    tablet.write('reading', reading('a', 100, quality), quality, 32);
    tablet.write('reading', reading('b', 100, lead), lead, 33);
    sign(tablet, lead, 'crew-lead', 34);
    sign(tablet, quality, 'quality', 35);
    expect(state(tablet).status).not.toBe('released');
  });

  it('does not count a release by somebody without the role, or with a forged signature', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    fillSheets(tablet);
    measure(tablet, within);
    sign(tablet, lead, 'crew-lead');
    sign(tablet, technician, 'quality');
    expect(state(tablet).status).toBe('ready');
    tablet.write('release', releaseBody(tablet, 'Quality', 'quality'), quality, 33, 'bad');
    expect(state(tablet).status).toBe('ready');
  });

  it('needs a decision on what is outside or not proven, by somebody else than who proposed it', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    fillSheets(tablet);
    measure(tablet, { a: 100, b: 101.4, c: 100.9 });
    expect(state(tablet).missing.map((c) => c.words)).toEqual(['1 within, 1 outside, 1 not proven']);
    const decide = (accepter: TestPerson, proposedBy: TestPerson) => {
      for (const finding of findings(tablet.view()).filter((f) => f.rule === 'outside' || f.rule === 'not-proven')) {
        tablet.write(
          'disposition',
          {
            finding: finding.id,
            operation: '2',
            decision: 'concession',
            words: 'The liner takes it up.',
            limits: 'as found',
            customer: { name: 'Customer', how: 'letter', on: '2026-03-01', reference: 'L-1' },
            proposedBy: proposedBy.id,
            name: accepter.name,
            role: 'quality',
          },
          accepter,
          25,
        );
      }
    };
    decide(quality, quality);
    expect(state(tablet).status).toBe('open');
    decide(quality, lead);
    expect(state(tablet).status).toBe('ready');
    expect(state(tablet).conditions.find((c) => c.id === 'characteristic/2/width')!.words).toBe(
      '1 within, 2 under a concession',
    );
  });

  it('is open again for what is measured outside after a decision on another reading', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    fillSheets(tablet);
    measure(tablet, { ...within, b: 102 });
    const finding = findings(tablet.view()).find((f) => f.rule === 'outside')!;
    tablet.write(
      'disposition',
      {
        finding: finding.id,
        operation: '2',
        decision: 'concession',
        words: 'agreed',
        limits: 'as found',
        customer: { name: 'Customer', how: 'letter', on: '2026-03-01', reference: 'L-1' },
        proposedBy: lead.id,
        name: 'Quality',
        role: 'quality',
      },
      quality,
      25,
    );
    expect(state(tablet).status).toBe('ready');
    const old = tablet.lines.find(
      (l) => l.entry.kind === 'reading' && (l.entry.body as { station: string }).station === 'b',
    )!;
    tablet.write('reading', reading('b', 103, technician, old.hash), technician, 40);
    expect(state(tablet).status).toBe('open');
  });

  it('falls into doubt when evidence turns up that its signer had not seen', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    fillSheets(a);
    const [first] = measure(a, within);
    b.merge(a);
    b.write('strike', { target: first!.hash, reason: 'mistyped' }, technician, 25);
    signAll(a);
    expect(state(a).status).toBe('released');
    a.merge(b);
    b.merge(a);
    for (const tablet of [a, b]) {
      expect(state(tablet).status).toBe('in-doubt');
      const [doubt] = state(tablet).stale[0]!.doubts;
      expect(doubtWords(tablet.view(), doubt!)).toBe(
        'Struck by Technician, on T2, not seen when it was signed: reading of width at station a by Technician, on T1',
      );
    }
    a.write('reading', reading('a', 100.2), technician, 50);
    signAll(a);
    b.merge(a);
    expect([state(a).status, state(b).status]).toEqual(['released', 'released']);
  });

  it('stays released when somebody measures again knowing of the release', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    fillSheets(a);
    const [first] = measure(a, within);
    signAll(a);
    b.merge(a);
    b.write('reading', reading('a', 103, technician, first!.hash), technician, 60);
    a.merge(b);
    expect(state(a).status).toBe('released');
    // What it found is a finding against what follows.
    expect(findings(a.view()).some((f) => f.rule === 'outside' && f.state === 'open')).toBe(true);
    // The small plan has no hold point after this one: nothing is there to block.
    expect(findings(a.view()).find((f) => f.rule === 'outside')!.blocks).toBeNull();
  });

  it('does not count a refusal as answered before its own role has signed over it', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    fillSheets(a);
    measure(a, within);
    b.merge(a);
    b.write(
      'refusal',
      { hold: 'H1', plan: planHashOf(smallPlan), reason: 'no light', name: 'Quality', role: 'quality' },
      quality,
      25,
    );
    signAll(a);
    expect(state(a).status).toBe('released');
    a.merge(b);
    expect(state(a).status).toBe('in-doubt');
    expect(state(a).doubts.map((d) => doubtWords(a.view(), d))).toEqual(['Refused by Quality, on T2: no light']);
    sign(a, quality, 'quality', 40);
    expect(state(a).status).toBe('released');
  });

  it('is in doubt where a listed entry is not here, and released when it comes', () => {
    const [a, b, c] = tablets(['T1', 'T2', 'T3']) as [TestTablet, TestTablet, TestTablet];
    fillSheets(a);
    b.merge(a);
    measure(b, within);
    a.merge(b);
    signAll(a);
    c.merge(a);
    expect(state(c).status).toBe('in-doubt');
    expect(state(c).doubts.map((d) => doubtWords(c.view(), d))).toContain(
      'Signed by Lead, on T1 on evidence of which 3 entries are not here',
    );
    expect(state(c).missing.map((m) => m.words)).toContain('not so: 3 of T2');
    c.merge(b);
    expect(state(c).status).toBe('released');
  });

  it('finds an independent signer among several in one role', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const second = { id: 'ab'.repeat(16), name: 'Second lead', roles: ['crew-lead'] as const };
    tablet.write('person', { person: second.id, name: second.name, roles: [...second.roles] }, lead, 4);
    const key = personKey(second, 'T1');
    tablet.write('key', { person: second.id, key, device: tablet.device }, lead, 4);
    fillSheets(tablet);
    tablet.write('reading', reading('a', 100, lead), lead, 15);
    tablet.write('reading', reading('b', 100, quality), quality, 15);
    tablet.write('reading', reading('c', 100), technician, 15);
    signAll(tablet);
    expect(state(tablet).status).not.toBe('released');
    sign(tablet, second, 'crew-lead', 40);
    expect(state(tablet).status).toBe('released');
  });

  it('flags work behind it that was recorded before it was released, and keeps it', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('sheet', sheet('3', { c1: 'yes' }), technician, 5);
    const rules = findings(tablet.view()).map((f) => [f.rule, f.title]);
    expect(rules).toContainEqual(['out-of-sequence', '3 was begun before 2 was finished']);
    expect(rules).toContainEqual(['passed-unreleased', 'Worked past H1 in operation 3']);
    // What stands behind the gate is said with it.
    const passed = findings(tablet.view()).find((f) => f.rule === 'passed-unreleased')!;
    expect(passed.words).toBe(
      '1 entry was made before H1 was released; all are kept. What its signature says: It may go on.',
    );
  });

  it('names what was written for it and is not counted, and why', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    fillSheets(a);
    measure(a, within);
    b.merge(a);
    const forged = b.write('release', releaseBody(b, 'Lead', 'crew-lead'), lead, 30, 'bad');
    const roleless = sign(b, technician, 'quality');
    const retired = sign(b, quality, 'quality');
    a.write('retirement', { key: personKey(quality, 'T2'), reason: 'out of sight' }, lead, 35);
    a.merge(b);
    expect(state(a).status).toBe('ready');
    const named = uncountedAt(a.view(), hold).map(({ kept, fault }) => [kept.hash, faultWords[fault]]);
    expect(named).toEqual([
      [forged.hash, faultWords['signature-wrong']],
      [roleless.hash, faultWords['role-missing']],
      [retired.hash, faultWords['key-retired']],
    ]);
    expect(
      chainFaults(a.view())
        .get(b.device)
        ?.map((f) => [f.fault, f.count, f.first.hash]),
    ).toEqual([
      ['signature-wrong', 1, forged.hash],
      ['role-missing', 1, roleless.hash],
      ['key-retired', 1, retired.hash],
    ]);
  });

  it('says that the signatures do not release it when everyone who signed had measured', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    fillSheets(tablet);
    tablet.write('reading', reading('a', 100, lead), lead, 15);
    tablet.write('reading', reading('b', 100, quality), quality, 15);
    tablet.write('reading', reading('c', 100), technician, 15);
    signAll(tablet);
    const { status, unsound, rolesOpen } = state(tablet);
    expect([status, unsound, rolesOpen]).toEqual(['ready', 'nobody-independent', ['crew-lead', 'quality']]);
    expect(unsoundWords['nobody-independent']).toContain('measured or recorded some of the evidence');
    expect(signingObstacles(tablet.view(), state(tablet), technician.id, 'quality')).toContain(
      'At least one signer must have taken none of the measurements.',
    );
  });

  it('is not signed while an entry waits for one before it, whatever that may say', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    fillSheets(a);
    const [first] = measure(a, within);
    b.merge(a);
    const strike = b.write('strike', { target: first!.hash, reason: 'mistyped' }, technician, 25);
    const later = b.write('note', { text: 'struck' }, technician, 26);
    a.log.add(later.entry, later.hash, later.signature);
    expect(state(a).missing.map((c) => [c.id, c.words])).toEqual([['missing', 'not so: 1 of T2']]);
    expect(signingObstacles(a.view(), state(a), lead.id, 'crew-lead')[0]).toContain('1 of T2');
    a.log.add(strike.entry, strike.hash, strike.signature);
    expect(state(a).missing.map((c) => c.id)).toEqual(['characteristic/2/width']);
  });

  it('flags work recorded behind it when it falls into doubt, until it is signed again', () => {
    const [a, b] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const flagged = (tablet: TestTablet) => findings(tablet.view()).find((f) => f.rule === 'behind-doubt');
    fillSheets(a);
    const [first] = measure(a, within);
    b.merge(a);
    const strike = b.write('strike', { target: first!.hash, reason: 'mistyped' }, technician, 25);
    signAll(a);
    const work = a.write('sheet', sheet('3', { c1: 'yes' }), technician, 40);
    expect(flagged(a)).toBeUndefined();
    a.merge(b);
    b.merge(a);
    for (const tablet of [a, b]) {
      expect(flagged(tablet)).toMatchObject({
        operation: '3',
        severity: 'major',
        blocks: 'H1',
        state: 'open',
        title: 'Operation 3 rests on H1, which is in doubt',
      });
      expect([...flagged(tablet)!.causes].sort()).toEqual([work.hash, first!.hash].sort());
      expect(findings(tablet.view()).some((f) => f.rule === 'passed-unreleased')).toBe(false);
    }
    expect(strike.entry.kind).toBe('strike');
    // A decision on it holds until more is found.
    a.write(
      'disposition',
      {
        finding: flagged(a)!.id,
        operation: '3',
        decision: 'concession',
        words: 'looked at again',
        limits: 'as found',
        customer: { name: 'Customer', how: 'letter', on: '2026-03-01', reference: 'L-1' },
        proposedBy: lead.id,
        name: 'Quality',
        role: 'quality',
      },
      quality,
      45,
    );
    expect(flagged(a)!.state).toBe('accepted');
    const more = a.write('sheet', sheet('3', { c2: 'yes' }), technician, 46);
    expect(flagged(a)!.state).toBe('open');
    expect(flagged(a)!.causes).toContain(more.hash);
    a.write('reading', reading('a', 100.2), technician, 50);
    sign(a, lead, 'crew-lead', 55);
    sign(a, quality, 'quality', 56);
    expect(flagged(a)).toMatchObject({ state: 'closed', title: 'Operation 3 rests on H1, which was in doubt' });
    // What is done from now on rests on the new release.
    const after = a.write('operation', { operation: '3', mark: 'finished' }, lead, 60);
    expect(flagged(a)!.causes).not.toContain(after.hash);
  });

  it('blocks the next hold point by what is found outside in knowledge of the release', () => {
    const [first] = smallPlan.holds;
    const plan = { ...smallPlan, holds: [first!, { ...first!, id: 'H2', name: 'later', after: '3', before: [] }] };
    const [tablet] = tablets(['T1'], plan) as [TestTablet];
    const outside = () => findings(tablet.view()).find((f) => f.rule === 'outside')!;
    fillSheets(tablet);
    const [measured] = measure(tablet, within);
    const { evidence, evidenceHash } = holdState(tablet.view(), first!);
    for (const [person, role] of [[lead, 'crew-lead'] as const, [quality, 'quality'] as const]) {
      const body = { hold: 'H1', plan: planHashOf(plan), evidence: [...evidence], evidenceHash, meaning: 'seen' };
      tablet.write('release', { ...body, name: person.name, role }, person, 30);
    }
    tablet.write('reading', reading('a', 103, technician, measured!.hash), technician, 60);
    expect(holdState(tablet.view(), first!).status).toBe('released');
    expect(outside()).toMatchObject({ state: 'open', blocks: 'H2' });
    expect(blockingFindings(tablet.view(), plan.holds[1]!).map((f) => f.id)).toEqual([outside().id]);
  });

  it('takes a concession only with its limits and the agreement of the customer, and says what one lacks', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    fillSheets(tablet);
    measure(tablet, { ...within, a: 103 });
    const found = () => findings(tablet.view()).find((f) => f.rule === 'outside')!;
    const concede = (more: Partial<Body<'disposition'>>) => {
      const body = { finding: found().id, operation: '2', decision: 'concession', words: 'so be it' } as const;
      const by = { proposedBy: lead.id, name: 'Quality', role: 'quality' } as const;
      tablet.write('disposition', { ...body, ...by, ...more }, quality, 25);
    };
    const limits = 'up to 103.2';
    const agreed = { name: 'Ada', how: 'letter', on: '2026-03-01', reference: 'L-12' } as const;
    concede({ customer: agreed });
    concede({ limits });
    // Free words of an earlier build name nobody's letter, call or presence.
    concede({ limits, agreedBy: 'the customer' });
    const { reference, ...unnamed } = agreed;
    concede({ limits, customer: unnamed });
    concede({ limits, customer: { ...unnamed, how: 'call' } });
    concede({ limits, customer: { ...agreed, on: '2026-03-03' } });
    expect(found()).toMatchObject({ state: 'open', dispositions: [] });
    const missing = 'the customer’s agreement is missing: who agreed, how, and on what date';
    expect(found().lacking.map((l) => l.why)).toEqual([
      'it does not say how far it goes',
      missing,
      missing,
      'the customer’s letter is not named by a reference',
      'the customer’s call is not named by a reference',
      'the customer’s agreement bears a date later than the disposition',
    ]);
    expect(state(tablet).missing.map((c) => c.words)).toEqual([
      expect.stringContaining(`2 within, 1 outside; a concession does not count: it does not say how far it goes`),
    ]);
    concede({ limits, customer: { ...unnamed, how: 'present' } });
    expect(found()).toMatchObject({ state: 'accepted', dispositions: [{ body: { customer: { how: 'present' } } }] });
    expect(state(tablet).missing).toEqual([]);
    expect([reference, agreementWords(agreed)]).toEqual([
      'L-12',
      'Ada of the customer, by letter of 2026-03-01, reference L-12',
    ]);
  });

  it('raises a finding when an operation is called finished with things missing, until they are made good', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    const short = () => findings(tablet.view()).find((f) => f.rule === 'finished-short' && f.operation === '2');
    tablet.write('sheet', sheet('2', { c1: 'yes' }), technician, 10);
    measure(tablet, { a: 100 });
    expect(short()).toBeUndefined();
    tablet.write('operation', { operation: '2', mark: 'finished' }, lead, 20);
    expect(short()).toMatchObject({
      severity: 'major',
      state: 'open',
      title: 'Operation 2 was called finished with 2 things missing',
      words: '1 of 2 items of the check sheet not answered; width: 2 of 3 not measured.',
    });
    tablet.write('sheet', sheet('2', { c2: 'yes' }), technician, 30);
    measure(tablet, { b: 100, c: 100 });
    expect(short()).toBeUndefined();
  });

  it('has an owner for each finding: who was named, or the role that its rule falls to', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    measure(tablet, { a: 103 });
    const raised = { operation: '2', title: 'chip', severity: 'minor', blocks: null } as const;
    tablet.write('finding', { ...raised, owner: quality.id }, technician, 20);
    tablet.write('finding', { ...raised, title: 'dust' }, technician, 21);
    const owners = findings(tablet.view()).map((f) => [f.title, ownerOf(f)]);
    expect(owners).toEqual(
      expect.arrayContaining([
        ['width, station a: outside', { role: 'process-engineer' }],
        ['chip', { person: quality.id }],
        ['dust', { role: 'crew-lead' }],
      ]),
    );
  });

  it('tells a check sheet that was written long after it was seen', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('sheet', sheet('1', { c1: 'yes' }), technician, 10);
    const late = lineOf(tablet, 'sheet', sheet('1', { c2: 'yes' }), technician, 400);
    const entry = { ...late.entry, observedAt: new Date(Date.UTC(2026, 2, 1)).toISOString() };
    tablet.keep({ ...late, entry, hash: entryHash(entry) });
    const told = findings(tablet.view()).filter((f) => f.rule === 'late');
    expect(told.map((f) => f.title)).toEqual(['Check sheet of operation 1: written 6 h late']);
  });

  it('tells when two passes that are compared were read with different instruments', () => {
    const [first, second] = smallPlan.operations;
    const operations = [
      { ...first!, id: '6.4', measures: ['width'] },
      { ...second!, id: '7.2', after: [] },
    ];
    const [width] = smallPlan.characteristics;
    const plan = { ...smallPlan, operations, characteristics: [{ ...width!, operations: ['6.4', '7.2'] }], holds: [] };
    const [tablet] = tablets(['T1'], plan) as [TestTablet];
    const read = (operation: string, station: string, gauge: string) =>
      tablet.write('reading', { ...reading(station, 100), operation, instrument: gauge }, technician, 10);
    const told = () => findings(tablet.view()).filter((f) => f.rule === 'another-instrument');
    read('6.4', 'a', 'CA-1');
    read('7.2', 'a', 'CA-1');
    expect(told()).toEqual([]);
    const other = read('7.2', 'b', 'CA-2');
    expect(told().map((f) => [f.title, f.words, f.causes])).toEqual([
      [
        'width: read with another instrument than in 6.4',
        'CA-2 in 7.2, CA-1 in 6.4. Say how the two are tied together, or read it again with the same.',
        [other.hash],
      ],
    ]);
  });
});
