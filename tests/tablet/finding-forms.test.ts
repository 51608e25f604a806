import { describe, expect, it } from 'vitest';
import type { Disposition, Role } from '../../shared/logbook/kinds.ts';
import type { Person } from '../../shared/logbook/standing.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { operationById } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { mayAccept } from '../../src/tablet/screens/findings/accepters.ts';
import { decidedOf, emptyDecision } from '../../src/tablet/screens/findings/decision.ts';
import { emptyFinding, findingBody, findingKindsOf } from '../../src/tablet/screens/operation/finding-draft.ts';
import { emptySheet, filledOf, seenOf } from '../../src/tablet/screens/operation/sheet-draft.ts';

const TODAY = '2026-03-02';

const person = (id: string, ...roles: Role[]): Person => ({ id, name: id, roles, retired: false });

describe('who may accept a disposition', () => {
  // Which role accepts what is common practice, no source; ISO 9001:2015, 8.7.2 d asks for the authority to be named.
  const accepted: readonly [Disposition, Role, boolean][] = [
    ['rework', 'crew-lead', true],
    ['rework', 'technician', false],
    ['repair', 'crew-lead', false],
    ['repair', 'process-engineer', true],
    ['concession', 'process-engineer', false],
    ['concession', 'quality', true],
    ['regrade', 'process-engineer', true],
    ['scrap', 'process-engineer', false],
    ['scrap', 'quality', true],
  ];
  it.each(accepted)('%s by %s: %s', (decision, role, may) => {
    expect('role' in mayAccept(person('a', role), decision, 'b')).toBe(may);
  });

  it('never lets the proposer accept, whatever the role', () => {
    expect(mayAccept(person('a', 'quality'), 'concession', 'a')).toEqual({
      why: 'proposed it: another person accepts',
    });
  });

  it('picks the role that has the authority, and says in words what is missing', () => {
    expect(mayAccept(person('a', 'technician', 'quality'), 'scrap', 'b')).toEqual({ role: 'quality' });
    expect(mayAccept(person('a', 'technician'), 'rework', 'b')).toEqual({
      why: 'technician: rework is accepted by crew lead or process engineer or quality',
    });
  });
});

describe('a decision', () => {
  const full = {
    decision: 'concession',
    words: ' leave it ',
    limits: 'up to 1.2 mm',
    customer: ' Ada ',
    how: 'letter',
    on: '2026-03-01',
    reference: 'L-12',
    proposedBy: 'p',
    accepter: 'q',
  } as const;
  const by = person('q', 'quality');

  it('asks for one thing after the other', () => {
    const ask = (draft: Partial<typeof emptyDecision>) => decidedOf({ ...full, ...draft }, by, TODAY);
    expect(decidedOf(emptyDecision, null, TODAY)).toEqual({ ask: 'Choose a disposition.' });
    expect(ask({ words: ' ' })).toEqual({ ask: 'Say what is to be done, and why.' });
    expect(ask({ limits: '' })).toEqual({ ask: 'Say how far the concession goes.' });
    expect(ask({ customer: '' })).toEqual({ ask: 'Say who of the customer agreed to the concession.' });
    expect(ask({ how: '' })).toEqual({ ask: 'Say how the customer agreed: by letter, by call, or present.' });
    expect(ask({ on: '' })).toEqual({ ask: 'Give the date on which the customer agreed.' });
    expect(ask({ on: '2026-03-03' })).toHaveProperty('ask');
    expect(ask({ reference: ' ' })).toEqual({ ask: 'Name the letter: its number, or where it is kept.' });
    expect(ask({ how: 'call', reference: '' })).toHaveProperty('ask');
    expect(ask({ how: 'present', reference: '' })).not.toHaveProperty('ask');
    expect(decidedOf(full, null, TODAY)).toEqual({ ask: 'Choose who accepts it.' });
    expect(decidedOf({ ...full, proposedBy: 'q' }, by, TODAY)).toHaveProperty('ask');
  });

  it('carries limits and consent for a concession only', () => {
    const { accepter, proposedBy } = full;
    expect(decidedOf(full, by, TODAY)).toEqual({
      decision: 'concession',
      words: 'leave it',
      limits: 'up to 1.2 mm',
      agreedBy: 'Ada',
      customer: { name: 'Ada', how: 'letter', on: '2026-03-01', reference: 'L-12' },
      proposedBy,
      accepter,
      role: 'quality',
    });
    expect(decidedOf({ ...full, decision: 'scrap' }, by, TODAY)).toEqual({
      decision: 'scrap',
      words: 'leave it',
      proposedBy,
      accepter,
      role: 'quality',
    });
  });
});

describe('a finding by hand', () => {
  const plan = buildPlan(practiceDesign);

  it('offers the kinds of its stage, and missing rounds where there is a heat plan', () => {
    const names = (id: string) => findingKindsOf(plan, operationById(plan, id)!).map((k) => k.name);
    expect(names('4.1')[0]).toBe('Rounds of heat P1 are missing');
    expect(findingKindsOf(plan, operationById(plan, '4.1')!)[0]!.blocks).toBe('H03');
    expect(names('5.1')).toEqual(['One station grown 1.2 mm']);
    expect(names('1.1')).not.toContain('Hold passed unreleased');
  });

  it('wants a title and a severity, and drops a station without its characteristic', () => {
    const draft = { ...emptyFinding, title: ' Crack ', severity: 'major', station: 'a' } as const;
    expect(findingBody(emptyFinding, '2.2')).toHaveProperty('ask');
    expect(findingBody({ ...draft, severity: '' }, '2.2')).toHaveProperty('ask');
    expect(findingBody(draft, '2.2')).toEqual({ operation: '2.2', title: 'Crack', severity: 'major', blocks: null });
    expect(findingBody({ ...draft, characteristic: 'stave-plumb', blocks: 'H01' }, '2.2')).toMatchObject({
      characteristic: 'stave-plumb',
      station: 'a',
      blocks: 'H01',
    });
    expect(findingBody({ ...draft, owner: 'a'.repeat(32) }, '2.2')).toMatchObject({ owner: 'a'.repeat(32) });
  });
});

describe('a check sheet that is being filled', () => {
  const now = new Date('2026-03-01T12:00:00Z');

  it('counts the items that have an answer', () => {
    const draft = {
      ...emptySheet,
      answers: { a: { answer: 'no', words: 'open' }, b: { answer: null, words: '', change: 'mistyped' } },
    } as const;
    expect(filledOf(draft)).toEqual([{ item: 'a', answer: 'no', words: 'open' }]);
  });

  it('is seen by the person at the tablet, now, unless it says otherwise', () => {
    expect(seenOf(emptySheet, 'me', 'Etc/UTC', now)).toEqual({ observer: 'me', way: 'keypad' });
    expect(seenOf({ ...emptySheet, observer: 'you' }, 'me', 'Etc/UTC', now)).toMatchObject({ observer: 'you' });
  });

  it('takes the time that stands on the paper, in the hall’s zone, and refuses one to come', () => {
    const paper = { ...emptySheet, paper: true, date: '2026-03-01', time: '12:30' };
    const seen = seenOf(paper, 'me', 'Europe/Berlin', now);
    expect('observedAt' in seen && Date.parse(seen.observedAt!)).toBe(Date.parse('2026-03-01T11:30:00Z'));
    expect(seenOf(paper, 'me', 'Etc/UTC', now)).toHaveProperty('fault');
    expect(seenOf({ ...paper, time: '' }, 'me', 'Etc/UTC', now)).toHaveProperty('fault');
  });
});
