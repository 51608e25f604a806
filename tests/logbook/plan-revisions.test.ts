import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findings } from '../../shared/logbook/state/findings.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { planEffects, releasedOtherwise } from '../../shared/logbook/state/plan-effects.ts';
import { stationStates } from '../../shared/logbook/state/readings.ts';
import { planHashOf } from '../../shared/logbook/state/view.ts';
import type { Plan } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import {
  lead,
  quality,
  readingUnder,
  releaseBody,
  revisedPlan,
  sheet,
  type TestTablet,
  tablets,
  technician,
} from './world.ts';

const engineer = { ...lead, roles: [...lead.roles, 'process-engineer' as const] };

function hall(names: readonly string[] = ['T1', 'T2']): TestTablet[] {
  const all = tablets(names);
  all[0]!.write('person', { person: lead.id, name: lead.name, roles: [...engineer.roles] }, lead, 4);
  for (const tablet of all.slice(1)) tablet.merge(all[0]!);
  return all;
}

function revise(tablet: TestTablet, plan: Plan, minute: number, parents = [tablet.view().planHash]): Plan {
  tablet.write('plan', { plan, parents, reason: 'a closer fit is wanted' }, engineer, minute);
  return plan;
}

const measure = (tablet: TestTablet, station: string, value: number, minute: number) =>
  tablet.write('reading', readingUnder(tablet.view(), station, value), technician, minute).hash;

/** Everything that the hold point asks for but its signatures. */
function fulfil(tablet: TestTablet, values: readonly number[] = [100, 100, 100.7]): void {
  for (const operation of ['1', '2']) {
    tablet.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
    tablet.write('operation', { operation, mark: 'finished' }, lead, 11);
  }
  ['a', 'b', 'c'].forEach((station, i) => void measure(tablet, station, values[i]!, 12));
}

function sign(tablet: TestTablet, minute = 20): void {
  tablet.write('release', releaseBody(tablet, lead.name, 'crew-lead'), lead, minute);
  tablet.write('release', releaseBody(tablet, quality.name, 'quality'), quality, minute);
}

const hold = (tablet: TestTablet) => holdState(tablet.view(), tablet.view().plan.holds[0]!);
const verdictAt = (tablet: TestTablet, station: string) =>
  stationStates(tablet.view(), '2', 'width').get(station)?.verdict;
const narrow = () => revisedPlan('B', 99, 100.5);

describe('open work', () => {
  it('is judged by the plan in force: a narrower limit makes a good reading bad, and says why', () => {
    const [a] = hall();
    const hash = measure(a!, 'c', 100.7, 12);
    expect(verdictAt(a!, 'c')).toBe('within');
    revise(a!, narrow(), 13);
    expect(verdictAt(a!, 'c')).toBe('outside');
    const found = findings(a!.view()).filter((f) => f.causes.includes(hash) && f.rule !== 'out-of-sequence');
    expect(found.map((f) => [f.rule, f.state])).toEqual([['outside', 'open']]);
    expect(found[0]!.words).toContain('read under plan revision A, by which it was within');
  });

  it('made good by a wider limit keeps its finding, closed', () => {
    const [a] = hall();
    measure(a!, 'c', 101.5, 12);
    const before = findings(a!.view()).find((f) => f.rule === 'outside')!;
    expect(before.state).toBe('open');
    revise(a!, revisedPlan('B', 99, 103), 13);
    expect(verdictAt(a!, 'c')).toBe('within');
    expect(findings(a!.view()).find((f) => f.id === before.id)?.state).toBe('closed');
  });

  it('that was bad between two revisions keeps that finding, closed', () => {
    const [a] = hall();
    measure(a!, 'c', 100.7, 12);
    revise(a!, narrow(), 13);
    const between = findings(a!.view()).find((f) => f.rule === 'outside')!;
    revise(a!, revisedPlan('C', 99, 101), 14);
    expect(verdictAt(a!, 'c')).toBe('within');
    expect(findings(a!.view()).find((f) => f.id === between.id)?.state).toBe('closed');
  });

  it('read under a revision that is not here is judged by the one in force', () => {
    const [a] = hall();
    const body = { ...readingUnder(a!.view(), 'c', 101.5), limits: { nominal: 100, lower: 90, upper: 110 } };
    a!.write('reading', { ...body, verdict: 'within', plan: 'e'.repeat(64) }, technician, 12);
    expect(verdictAt(a!, 'c')).toBe('outside');
  });
});

describe('a released hold point', () => {
  it('keeps the revision that it was signed under, and so do its readings', () => {
    const [a] = hall();
    fulfil(a!);
    sign(a!);
    expect(hold(a!).status).toBe('released');
    revise(a!, narrow(), 30);
    const { status, signedUnder, missing } = hold(a!);
    expect([status, signedUnder, missing]).toEqual(['released', planHashOf(smallPlan), []]);
    expect(verdictAt(a!, 'c')).toBe('within');
    expect(findings(a!.view())).toEqual([]);
  });

  it('keeps it also where the revision asks for other roles and other work', () => {
    const [a] = hall();
    fulfil(a!);
    sign(a!);
    const asks = { ...smallPlan.holds[0]!, roles: ['crew-lead', 'quality', 'customer'], operations: ['1', '2', '3'] };
    revise(a!, { ...revisedPlan('B'), holds: [asks] }, 30);
    a!.write('sheet', sheet('3', { c1: 'no' }), technician, 31);
    expect(hold(a!).status).toBe('released');
    expect(releasedOtherwise(a!.view())[0]!.why.join(' ')).toContain('customer');
  });

  it('whose evidence changes after the revision is open work, and judged by the one in force', () => {
    const [a, b] = hall();
    fulfil(a!);
    b!.merge(a!);
    measure(b!, 'a', 100.1, 19);
    sign(a!);
    revise(a!, narrow(), 30);
    expect(hold(a!).status).toBe('released');
    a!.merge(b!);
    expect(hold(a!).status).toBe('in-doubt');
    expect(verdictAt(a!, 'c')).toBe('outside');
    expect(hold(a!).missing.map((c) => c.id)).toContain('characteristic/2/width');
  });

  it('is not released by signatures under two revisions', () => {
    const [a] = hall();
    fulfil(a!, [100, 100, 100]);
    a!.write('release', releaseBody(a!, lead.name, 'crew-lead'), lead, 20);
    revise(a!, narrow(), 21);
    a!.write('release', releaseBody(a!, quality.name, 'quality'), quality, 22);
    expect(hold(a!).status).toBe('ready');
    expect(hold(a!).rolesOpen).toEqual(['crew-lead']);
    a!.write('release', releaseBody(a!, lead.name, 'crew-lead'), lead, 23);
    expect(hold(a!).signedUnder).toBe(planHashOf(narrow()));
  });

  it('is in doubt while the revision that it was signed under is not here', () => {
    const [a] = hall();
    fulfil(a!);
    for (const [who, role] of [
      [lead, 'crew-lead'],
      [quality, 'quality'],
    ] as const)
      a!.write('release', { ...releaseBody(a!, who.name, role), plan: 'd'.repeat(64) }, who, 20);
    expect(hold(a!).status).toBe('in-doubt');
    expect(hold(a!).stale[0]!.doubts.map((d) => d.reason)).toEqual(['not-carried']);
  });
});

describe('what a revision would do', () => {
  it('names each open reading whose verdict changes, with value and limits', () => {
    const [a] = hall();
    measure(a!, 'a', 100, 12);
    const hash = measure(a!, 'c', 100.7, 12);
    const effects = planEffects(a!.view(), narrow(), 0);
    expect(effects.sameVerdict).toBe(1);
    expect(effects.rejudged).toMatchObject([
      {
        reading: hash,
        place: 'station c',
        value: 100.7,
        verdict: { before: 'within', after: 'outside' },
        limits: { before: { upper: 101 }, after: { upper: 100.5 } },
      },
    ]);
  });

  it('names the released hold point that it would fail, and leaves its readings alone', () => {
    const [a] = hall();
    fulfil(a!);
    sign(a!);
    const { rejudged, wouldFail, heldUp } = planEffects(a!.view(), narrow(), 0);
    expect([rejudged, heldUp]).toEqual([[], []]);
    expect(wouldFail).toMatchObject([
      { hold: { id: 'H1' }, releasedUnder: 'A', why: ['width: 2 within, 1 outside'], values: [{ value: 100.7 }] },
    ]);
  });

  it('names the open hold point that it holds up', () => {
    const [a] = hall();
    fulfil(a!);
    const { rejudged, wouldFail, heldUp } = planEffects(a!.view(), narrow(), 0);
    expect([rejudged.length, wouldFail]).toEqual([1, []]);
    expect(heldUp.map((h) => [h.hold.id, h.releasedUnder])).toEqual([['H1', null]]);
  });

  it('leaves the log and its answers as they were, and comes true when it is signed', () => {
    const value = fc.double({ min: 98, max: 102, noNaN: true }).map((v) => Number(v.toFixed(2)));
    const limit = fc.integer({ min: 1, max: 20 }).map((n) => n / 10);
    fc.assert(
      fc.property(fc.array(value, { minLength: 3, maxLength: 3 }), limit, limit, (values, below, above) => {
        const [a] = hall(['T1']);
        ['a', 'b', 'c'].forEach((station, i) => void measure(a!, station, values[i]!, 12));
        const all = () =>
          JSON.stringify([...stationStates(a!.view(), '2', 'width')].map(([s, { verdict }]) => [s, verdict]));
        const before = all();
        const plan = revisedPlan('B', Number((100 - below).toFixed(1)), Number((100 + above).toFixed(1)));
        const { rejudged } = planEffects(a!.view(), plan, 0);
        expect(all()).toBe(before);
        const was = new Map(['a', 'b', 'c'].map((s) => [`station ${s}`, verdictAt(a!, s)]));
        revise(a!, plan, 13);
        const changed = ['a', 'b', 'c'].filter((s) => verdictAt(a!, s) !== was.get(`station ${s}`));
        expect(rejudged.map((r) => r.place)).toEqual(changed.map((s) => `station ${s}`));
        for (const r of rejudged) expect(r.verdict.after).toBe(verdictAt(a!, r.place.slice(-1)));
      }),
      { seed: 51, numRuns: 60 },
    );
  });
});

describe('two children of one parent', () => {
  it('leave the parent in force, both to be seen, until a revision follows both', () => {
    const [a, b] = hall();
    const one = revise(a!, revisedPlan('B', 99, 100.5), 5);
    const other = revise(b!, revisedPlan('B', 99.5, 101), 5);
    expect([a!.view().planHash, b!.view().planHash]).toEqual([planHashOf(one), planHashOf(other)]);
    a!.merge(b!);
    const view = a!.view();
    expect(view.planHash).toBe(planHashOf(smallPlan));
    expect(view.heads.map((r) => r.hash).sort()).toEqual([one, other].map(planHashOf).sort());
    const joined = revise(
      a!,
      revisedPlan('C', 99.5, 100.5),
      6,
      view.heads.map((r) => r.hash),
    );
    expect(a!.view().planHash).toBe(planHashOf(joined));
    expect(a!.view().heads.length).toBe(1);
  });

  it('are not settled by a revision that knew of one of them only', () => {
    const [a, b] = hall();
    const one = revise(a!, revisedPlan('B'), 5);
    revise(b!, revisedPlan('C', 99, 100.9), 5);
    revise(a!, revisedPlan('D'), 6, [planHashOf(one)]);
    a!.merge(b!);
    expect(a!.view().planHash).toBe(planHashOf(smallPlan));
  });

  it('joined twice wait for one that follows both joins', () => {
    const [a, b] = hall();
    revise(a!, revisedPlan('B', 99, 100.9), 5);
    revise(b!, revisedPlan('C', 99, 100.8), 5);
    a!.merge(b!);
    b!.merge(a!);
    for (const [i, tablet] of [a!, b!].entries())
      revise(
        tablet,
        revisedPlan(`J${i}`),
        6,
        tablet.view().heads.map((r) => r.hash),
      );
    a!.merge(b!);
    expect(a!.view().planHash).toBe(planHashOf(smallPlan));
    revise(
      a!,
      revisedPlan('K'),
      7,
      a!.view().heads.map((r) => r.hash),
    );
    expect(a!.view().plan.revision).toBe('K');
  });

  it('that hold the same plan are one revision', () => {
    const [a, b] = hall();
    for (const tablet of [a!, b!]) revise(tablet, revisedPlan('B', 99, 100.9), 5);
    a!.merge(b!);
    expect(a!.view().plan.revision).toBe('B');
  });

  it('come to an end where revisions name each other as parents', () => {
    const [a] = hall();
    const [one, other] = [revisedPlan('B'), revisedPlan('C')];
    const first = planHashOf(smallPlan);
    revise(a!, one, 5, [first, planHashOf(other)]);
    revise(a!, other, 6, [first, planHashOf(one)]);
    expect(['B', 'C']).toContain(a!.view().plan.revision);
  });

  it('give each tablet, whatever it has merged, one that every other revision it knows leads to or comes from', () => {
    const deed = fc.record({ tablet: fc.nat(2), from: fc.nat(2), merge: fc.boolean(), upper: fc.nat(9) });
    let waited = 0;
    let joined = 0;
    fc.assert(
      fc.property(fc.array(deed, { minLength: 4, maxLength: 25 }), (deeds) => {
        const all = hall(['T1', 'T2', 'T3']);
        for (const [i, d] of deeds.entries()) {
          const tablet = all[d.tablet]!;
          if (d.merge) for (const other of all) if (other !== tablet) tablet.merge(other);
          const { heads, planHash, revisions, line } = tablet.view();
          const parents = new Map(revisions.map((r) => [r.hash, r.parents]));
          const leadsTo = (a: string, b: string): boolean =>
            (parents.get(b) ?? []).some((p) => p === a || leadsTo(a, p));
          // Worked out here by walking up from each, apart from how the code does it.
          const fits = revisions.filter((r) =>
            revisions.every((o) => o === r || leadsTo(o.hash, r.hash) || leadsTo(r.hash, o.hash)),
          );
          const last = fits.filter((r) => !fits.some((o) => leadsTo(r.hash, o.hash)));
          expect(last.map((r) => r.hash)).toEqual([planHash]);
          expect(line.map((r) => r.hash).sort()).toEqual(fits.map((r) => r.hash).sort());
          waited += Number(heads.length > 1);
          joined += Number(line.at(-1)!.parents.length > 1);
          if (!d.merge)
            revise(
              tablet,
              revisedPlan(`R${i}`, 99, 101 + d.upper / 10),
              i + 5,
              heads.map((r) => r.hash),
            );
        }
      }),
      { seed: 12, numRuns: 60 },
    );
    expect([waited > 0, joined > 0]).toEqual([true, true]);
  });
});

describe('whoever set a limit', () => {
  const both = { ...quality, roles: [...quality.roles, 'process-engineer' as const] };

  /** Quality measured nothing; the lead observed a reading. */
  function signedAfter(set: (tablet: TestTablet) => void): TestTablet {
    const [a] = hall(['T1']);
    a!.write('person', { person: quality.id, name: quality.name, roles: [...both.roles] }, lead, 5);
    set(a!);
    fulfil(a!, [100, 100, 100]);
    a!.write('reading', readingUnder(a!.view(), 'a', 100, lead, hashAt(a!, 'a')), lead, 14);
    sign(a!);
    return a!;
  }

  const hashAt = (tablet: TestTablet, station: string) =>
    stationStates(tablet.view(), '2', 'width').get(station)!.current[0]!.hash;

  it('is not the independent signer of a hold point that needs it', () => {
    const set = (a: TestTablet) => a.write('plan', { plan: narrow(), parents: [planHashOf(smallPlan)] }, both, 6);
    const a = signedAfter((t) => void set(t));
    expect([hold(a).status, hold(a).unsound]).toEqual(['ready', 'nobody-independent']);
  });

  it('of something else is', () => {
    const other = { ...smallPlan, revision: 'B', operations: smallPlan.operations.map((o) => ({ ...o, hours: 9 })) };
    const a = signedAfter((t) => void t.write('plan', { plan: other, parents: [planHashOf(smallPlan)] }, both, 6));
    expect(hold(a).status).toBe('released');
  });
});
