import { describe, expect, test } from 'vitest';
import { criticalPath } from '../../shared/calculations/critical-path.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { orderReasons } from '../../shared/plan/content/order-reasons.ts';
import { elapsedDays, holdsBefore, operationById, predecessorsOf } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Plan } from '../../shared/plan/schema.ts';
import { designs } from './designs.ts';

/** The network in elapsed days, at an even pace over the week. */
const plannedDays = (plan: Plan) =>
  criticalPath.compute({
    activities: plan.operations.map((operation) => ({
      id: operation.id,
      duration: elapsedDays(operation),
      after: operation.after.map(({ id, type, lag_h }) => ({ id, type, lag: lag_h / 24 })),
    })),
  });

describe('the network of the practice blank, derived', () => {
  const plan = buildPlan(practiceDesign);
  const days = plannedDays(plan);

  test('lasts 232 days', () => {
    expect(Math.round(days.duration)).toBe(232);
  });

  test('has the longest chain that was said', () => {
    const said =
      '1.1 → 1.2 → 2.1 → 2.2 → 2.3 → 2.4 → 3.1 → 3.2 → 3.3 → 4.1 → 4.2 → 5.1 → 6.1 → 6.3 → 6.4 → 7.1 → 7.2 → 7.3 → ' +
      '8.2 → 9.1 → 9.2 → 9.3 → 10.1 → 11.1 → 11.3 → 11.4 → 12.1 → 12.2 → 12.3 → 12.4 → 12.5 → 13.1 → 13.2 → 13.3 → ' +
      '14.1 → 14.2';
    expect(days.critical.join(' → ')).toBe(said);
  });

  test.each([
    ['2.4', 24],
    ['3.3', 31],
    ['5.1', 44],
    ['6.4', 58],
    ['7.3', 76],
    ['8.2', 80],
    ['9.1', 81],
    ['10.1', 88],
    ['11.3', 118],
    ['11.4', 174],
    ['12.5', 195],
    ['14.2', 232],
  ])('%s is finished at the earliest on day %d', (id, day) => {
    expect(Math.round(days.activities[id]!.early_finish)).toBe(day);
  });

  test('turns calendars into elapsed days at an even pace', () => {
    // Five days of 8 h and six of 16 h in a week of seven.
    expect(elapsedDays({ ...operationById(plan, '1.1')!, hours: 40 })).toBe(7);
    expect(elapsedDays({ ...operationById(plan, '2.1')!, hours: 96 })).toBe(7);
    expect(elapsedDays({ ...operationById(plan, '4.1')!, hours: 24 })).toBe(1);
  });

  test('knows all operations before one, however far', () => {
    expect(predecessorsOf(plan, '1.1')).toEqual([]);
    expect(predecessorsOf(plan, '2.2')).toEqual(['1.1', '1.2', '2.1']);
    expect(predecessorsOf(plan, '3.1')).toEqual(['1.1', '1.2', '1.3', '2.1', '2.2', '2.3', '2.4']);
    expect(predecessorsOf(plan, '14.2')).toHaveLength(39);
  });

  test('knows the hold points before an operation', () => {
    const holdIds = (id: string) => holdsBefore(plan, id).map((h) => h.id);
    expect(holdIds('1.1')).toEqual([]);
    expect(holdIds('2.4')).toEqual([]);
    expect(holdIds('3.1')).toEqual(['H01']);
    expect(holdIds('4.1')).toEqual(['H01', 'H02']);
    expect(holdIds('6.2')).toEqual([]);
    expect(holdIds('8.1')).toEqual([]);
    expect(holdIds('9.3')).toEqual(['H01', 'H02', 'H03', 'H04', 'H05', 'H06', 'H07', 'H08']);
    expect(holdIds('14.2')).toHaveLength(11);
  });
});

describe.each(designs)('the network of the $name', ({ design }) => {
  const plan = buildPlan(design);

  test('has no cycle: no operation comes before itself', () => {
    for (const { id } of plan.operations) expect(predecessorsOf(plan, id)).not.toContain(id);
  });

  test('is listed in an order in which it can be done', () => {
    const place = new Map(plan.operations.map((o, i) => [o.id, i]));
    for (const o of plan.operations)
      for (const { id } of o.after) expect(place.get(id)!).toBeLessThan(place.get(o.id)!);
  });

  test('every operation but the last has a follower, and only the first has nothing before it', () => {
    const followed = new Set(plan.operations.flatMap((o) => o.after.map((a) => a.id)));
    expect(plan.operations.filter((o) => !followed.has(o.id)).map((o) => o.id)).toEqual(['14.2']);
    expect(plan.operations.filter((o) => o.after.length === 0).map((o) => o.id)).toEqual(['1.1']);
  });

  test('says why each operation waits for what stands before it: all but the first have such a rule', () => {
    const ruled = plan.operations.filter((o) => o.after.length > 0);
    expect(plan.operations.filter((o) => !ruled.includes(o)).map((o) => o.id)).toEqual(['1.1']);
    for (const o of ruled)
      for (const link of o.after) expect(link.why, `${o.id} ${link.type} ${link.id}`).toMatch(/^[A-Z].{20,}\.$/);
    const links = ruled.flatMap((o) => o.after.map((l) => `${o.id} ${l.type} ${l.id}`)).sort();
    // No reason stands for a link that the plan has not.
    const reasons = Object.entries(orderReasons).flatMap(([id, of]) => Object.keys(of).map((link) => `${id} ${link}`));
    expect(reasons.sort()).toEqual(links);
    for (const hold of plan.holds) expect(hold.meaning, hold.id).not.toBe('');
  });

  test('a hold point stands straight before what it names, and no link passes it by', () => {
    for (const hold of plan.holds) {
      for (const id of hold.before) expect(predecessorsOf(plan, id), hold.id).toContain(hold.after);
      const followers = plan.operations.filter((o) => o.after.some((a) => a.id === hold.after)).map((o) => o.id);
      for (const id of followers)
        expect(
          holdsBefore(plan, id).map((h) => h.id),
          `${hold.id} before ${id}`,
        ).toContain(hold.id);
    }
  });
});
