import { describe, expect, it } from 'vitest';
import { surveyGroups } from '../../src/tablet/screens/survey/survey-groups.ts';
import { surveyOf } from '../../src/tablet/screens/survey/survey-of.ts';
import { practice, viewOfLines } from '../practice/practice-world.ts';

describe('the list of surveys', () => {
  it('counts what each survey counts station by station', async () => {
    const { casting, lines } = await practice('counts');
    const view = await viewOfLines(casting, lines);
    const { now, later, done } = surveyGroups(view);
    const listed = [...now, ...later, ...done].flatMap((group) => group.surveys);
    expect(listed.length).toBeGreaterThan(100);
    expect(listed.filter((s) => s.counts.done > 0).length).toBeGreaterThan(10);
    for (const { operation, characteristic, counts } of listed)
      expect([characteristic.id, counts]).toEqual([
        characteristic.id,
        surveyOf(view, operation.id, characteristic.id)!.counts,
      ]);
  });
});
