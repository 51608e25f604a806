import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { joinPlans } from '../../shared/plan/join-plans.ts';
import { changeWords, planDifference } from '../../shared/plan/plan-difference.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { figureFaults, nextRevision, planItems, revisePlan } from '../../shared/plan/revise-plan.ts';
import { type Plan, planSchema } from '../../shared/plan/schema.ts';

/** A plan as the keys and places that lead to its leaves. */
type Parts = Record<string | number, unknown>;

const plan: Plan = JSON.parse(JSON.stringify(buildPlan(practiceDesign)));
const copy = (): Plan => JSON.parse(JSON.stringify(plan));
const told = (after: Plan, before: Plan = plan): string[] =>
  planDifference(before, after).flatMap((g) => g.changes.map((c) => `${g.title} | ${changeWords(c)}`));

/** The plan with one change made in place. */
function changed(change: (plan: Plan) => void): Plan {
  const next = copy();
  change(next);
  return next;
}

const at = <T extends { id: string }>(list: readonly T[], id: string): T => list.find((item) => item.id === id)!;

describe('the difference of two plans', () => {
  it('is none where only the name of the revision differs, or the order of keys', () => {
    expect(told({ ...copy(), revision: '2' })).toEqual([]);
    expect(told(Object.fromEntries(Object.entries(copy()).reverse()) as Plan)).toEqual([]);
  });

  it('says a limit with its unit, old and new, by the operations that it holds for', () => {
    const next = revisePlan(plan, new Map([['characteristics/tub-diameter-20/limits/0/upper', 3217.8]]), '2');
    expect(told(next)).toEqual([
      'Operations 2.4, 5.1 | Tub, inner diameter at 20 °C, upper limit: 3218.86 mm → 3217.8 mm',
      'Operations 2.4, 5.1 | Tub, inner diameter at 20 °C, source: the design → plan revision 2, set by hand',
    ]);
  });

  it('says which of several limits changed', () => {
    const next = revisePlan(plan, new Map([['characteristics/core-gap/limits/1/lower', 11]]), '2');
    expect(told(next)[0]).toMatch(/^Operations 6\.3, 6\.4, 7\.2 \| .*in 7\.2, lower limit: 10\.8 mm → 11 mm$/);
  });

  it('says that a figure set by hand is no longer worked out from the design', () => {
    const next = revisePlan(plan, new Map([['characteristics/spin-rate/limits/0/lower', 9.32]]), '2');
    expect(told(next).join('\n')).toContain('how the lower limit is found: worked out by spin → set by hand');
    expect(at(next.characteristics, 'spin-rate').limits[0]).not.toHaveProperty('lowerDerivation');
    expect(at(next.characteristics, 'spin-rate').limits[0]).toHaveProperty('upperDerivation');
  });

  it.each<[string, (p: Plan) => void, RegExp]>([
    [
      'hours',
      (p) => {
        at(p.operations, '2.4').hours = 20;
      },
      /^Operation 2\.4, .* \| Planned hours: \d+ h → 20 h$/,
    ],
    [
      'a band',
      (p) => {
        at(p.heatPlans, 'P1').segments[1]!.band_K = 6;
      },
      /^Heat P1, Tub preheat \| Segment 2, band: 8 K → 6 K$/,
    ],
    [
      'an interval',
      (p) => {
        at(p.heatPlans, 'P1').segments[2]!.rounds[0]!.every_h = 0.5;
      },
      /^Heat P1, Tub preheat \| Segment 3, full rounds, interval: 1 h → 0\.5 h$/,
    ],
    [
      'a notice',
      (p) => {
        at(p.witnesses, 'W01').notice_h = 240;
      },
      /^Witness point W01, .* \| Notice: 168 h → 240 h$/,
    ],
    [
      'a role',
      (p) => {
        at(p.holds, 'H02').roles.push('customer');
      },
      /^Hold point H02, .* \| Roles: new, customer$/,
    ],
    [
      'a need',
      (p) => {
        at(p.holds, 'H01').requirements.splice(0, 1);
      },
      /^Hold point H01, .* \| Needs, check sheet 1\.1: gone, was check sheet 1\.1$/,
    ],
    [
      'a caution',
      (p) => {
        p.cautions[0]!.text = 'Mind the gap.';
      },
      /^Caution \| .*text: .* → Mind the gap\.$/,
    ],
    [
      'a channel',
      (p) => {
        p.channels.splice(0, 1);
      },
      /^Channels \| .*: gone, was /,
    ],
    [
      'a check',
      (p) => {
        at(p.operations, '2.4').checks.push({ id: 'c99', text: 'Lamp off' });
      },
      /^Operation 2\.4, .* \| Check sheet item, c99: new, Lamp off$/,
    ],
    [
      'a link',
      (p) => {
        at(p.operations, '3.3').after[0]!.lag_h = 12;
      },
      /^Operation 3\.3, .* \| Comes after, 3\.1, lag: 0 h → 12 h$/,
    ],
    [
      'a new operation',
      (p) => {
        p.operations.push({ ...p.operations[0]!, id: '1.4', name: 'Second look' });
      },
      /^Operation 1\.4, Second look \| Operation: new, Second look$/,
    ],
    [
      'an operation gone',
      (p) => {
        p.operations.splice(3, 1);
      },
      /^Operation 2\.1, .* \| Operation: gone, was /,
    ],
    [
      'a limit taken away',
      (p) => {
        at(p.characteristics, 'stop-time').limits[0]!.upper = null;
      },
      /^Operation 1\.3, .* \| Time to stop from full rate, upper limit: gone, was 60 s$/,
    ],
  ])('says %s', (_, change, words) => {
    const lines = told(changed(change));
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(words);
  });

  it('shortens what moves at hundreds of stations together', () => {
    const lines = told(
      changed((p) => {
        const { offsetByStation } = at(p.characteristics, 'core-top-height').limits[0]!;
        for (const id of Object.keys(offsetByStation!)) offsetByStation![id]! += 0.2;
      }),
    );
    expect(lines.length).toBe(6);
    expect(lines.at(-1)).toMatch(/And \d+ more like these/);
  });

  it('passes over nothing: any leaf of the plan that changes is told', () => {
    const leaves: (readonly (string | number)[])[] = [];
    const walk = (value: unknown, path: readonly (string | number)[]) => {
      if (typeof value === 'object' && value !== null)
        for (const [k, v] of Object.entries(value)) walk(v, [...path, Array.isArray(value) ? Number(k) : k]);
      else if (path[0] !== 'revision') leaves.push(path);
    };
    walk(plan, []);
    fc.assert(
      fc.property(fc.constantFrom(...leaves), (path) => {
        const next = copy();
        const parent = path.slice(0, -1).reduce((here, key) => here[key] as Parts, next as unknown as Parts);
        const last = path.at(-1)!;
        const was = parent[last];
        parent[last] = typeof was === 'number' ? was + 1 : typeof was === 'boolean' ? !was : `${was ?? ''} other`;
        expect(told(next).length, path.join('/')).toBeGreaterThan(0);
        // And back again.
        expect(told(plan, next).length).toBeGreaterThan(0);
      }),
      { seed: 3, numRuns: 400 },
    );
  });
});

describe('a plan with new figures', () => {
  const figures = planItems(plan).flatMap((i) => i.figures);

  it('has each figure where it stands, under its own path', () => {
    expect(new Set(figures.map((f) => f.path)).size).toBe(figures.length);
    expect(new Set(planItems(plan).map((i) => i.kind))).toEqual(new Set(['limits', 'hours', 'heat', 'notice']));
  });

  it('changes that figure and what follows from it, is a plan, and comes back when it is set back', () => {
    fc.assert(
      fc.property(fc.constantFrom(...figures), fc.integer({ min: 1, max: 50 }), (f, n) => {
        const value = (f.value ?? 0) + n;
        const next = revisePlan(plan, new Map([[f.path, value]]), '2');
        expect(planSchema.parse(next).revision).toBe('2');
        const again = planItems(next)
          .flatMap((i) => i.figures)
          .find((o) => o.path === f.path)!;
        expect(again.value).toBe(value);
        expect(planDifference(plan, next).length).toBe(1);
        const others = planItems(next)
          .flatMap((i) => i.figures)
          .filter((o) => o.path !== f.path);
        expect(others.map((o) => o.value)).toEqual(figures.filter((o) => o.path !== f.path).map((o) => o.value));
      }),
      { seed: 4, numRuns: 80 },
    );
  });

  it('is refused where it is no limit, with the field that is to blame', () => {
    const upper = 'characteristics/tub-diameter-20/limits/0/upper';
    expect([...figureFaults(plan, new Map([[upper, 3000]]))]).toEqual([
      [upper, 'The lower limit lies above the upper one.'],
    ]);
    expect([...figureFaults(plan, new Map([[upper, 3217]]))]).toEqual([
      [upper, 'The nominal lies above the upper limit.'],
    ]);
    expect([...figureFaults(plan, new Map([['operations/2.4/hours', 0]])).keys()]).toEqual(['operations/2.4/hours']);
    expect([...figureFaults(plan, new Map([['operations/2.4/hours', null]])).keys()]).toEqual(['operations/2.4/hours']);
    expect(figureFaults(plan, new Map([[upper, null]])).size).toBe(0);
  });

  it('makes the words of a notice follow its hours', () => {
    const next = revisePlan(plan, new Map([['witnesses/W01/notice_h', 240]]), '2');
    expect(at(next.witnesses, 'W01').toldAhead).toBe('240 h');
  });

  it('is named by the number after the highest', () => {
    expect(nextRevision([plan])).toBe('2');
    expect(nextRevision([plan, { ...plan, revision: '7' }])).toBe('8');
    expect(nextRevision([{ ...plan, revision: 'A' }])).toBe('2');
  });
});

describe('two revisions joined', () => {
  const upper = 'characteristics/tub-diameter-20/limits/0/upper';
  const hours = 'operations/2.4/hours';

  it('have what each changed', () => {
    const a = revisePlan(plan, new Map([[hours, 30]]), '2');
    const b = revisePlan(plan, new Map([['heatPlans/P1/segments/0/band_K', 7]]), '2');
    const { plan: joined, conflicts } = joinPlans(plan, [a, b]);
    expect(conflicts).toEqual([]);
    expect(told(joined)).toEqual([...told(a), ...told(b)]);
    expect(joinPlans(plan, [b, a]).plan).toEqual(joined);
  });

  it('ask where both changed one figure otherwise, and follow what was chosen', () => {
    const [a, b] = [3218.5, 3218.2].map((v) => revisePlan(plan, new Map([[upper, v]]), '2')) as [Plan, Plan];
    const { conflicts } = joinPlans(plan, [a, b]);
    expect(conflicts.map((c) => c.path)).toEqual([`/${upper}`]);
    expect(conflicts[0]!.options.map((o) => o[0]!.changes[0]!.after)).toEqual(['3218.5 mm', '3218.2 mm']);
    const chosen = joinPlans(plan, [a, b], new Map([[`/${upper}`, 1]])).plan;
    expect(told(chosen)).toEqual(told(b));
  });

  it('with the same change have it once, and no question', () => {
    const a = revisePlan(plan, new Map([[upper, 3218.5]]), '2');
    expect(joinPlans(plan, [a, a])).toEqual({ plan: { ...a, revision: '1' }, conflicts: [] });
  });

  it('ask where one took away what the other changed', () => {
    const a = changed((p) => {
      p.operations.splice(
        p.operations.findIndex((o) => o.id === '13.3'),
        1,
      );
    });
    const b = revisePlan(plan, new Map([['operations/13.3/hours', 99]]), '2');
    expect(joinPlans(plan, [a, b]).conflicts.map((c) => c.path)).toEqual(['/operations/13.3']);
  });

  it('lose no change that only one of them made, whatever both did', () => {
    const paths = planItems(plan)
      .flatMap((i) => i.figures)
      .map((f) => f.path);
    const some = fc.uniqueArray(fc.constantFrom(...paths), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(some, some, (mine, yours) => {
        const put = (list: readonly string[], by: number) =>
          revisePlan(plan, new Map(list.map((p) => [p, 1000 + by])), '2');
        const { plan: joined } = joinPlans(plan, [put(mine, 1), put(yours, 2)]);
        const values = new Map(
          planItems(joined)
            .flatMap((i) => i.figures)
            .map((f) => [f.path, f.value]),
        );
        for (const path of mine) expect(values.get(path)).toBe(1001);
        for (const path of yours.filter((p) => !mine.includes(p))) expect(values.get(path)).toBe(1002);
      }),
      { seed: 6, numRuns: 40 },
    );
  });
});
