import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Lab } from '../bench/lab.ts';
import { saveTimes, startTimes } from '../bench/measures.ts';
import { performancePage } from '../bench/performance-page.ts';

/** The measures of tests/bench at a small size, so that they cannot rot. Nothing timed decides here. */
describe('the bench', () => {
  let lab: Lab;
  beforeAll(async () => {
    lab = await Lab.open();
  });
  afterAll(() => lab.close());

  it('measures saves and cold starts, and writes its page', async () => {
    const small = await saveTimes(lab, 300, 5, 1);
    const start = await startTimes(lab, 1_600, 1, 1);
    const page = performancePage({ small, large: small, start, slowed: 1, cores: 1 });
    expect(small).toMatchObject({ entries: 300, saves: 5 });
    for (const time of [small.median_ms, small.p95_ms, ...start.app_ms, ...start.bare_ms])
      expect(time).toBeGreaterThan(0);
    expect(page).not.toContain('NaN');
    expect(page).toContain('1.00 of the small log');
  });
});
