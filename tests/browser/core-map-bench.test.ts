import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { coreMapTimes } from '../bench/core-map.ts';
import { CORES_PAGE } from '../bench/import-cores.ts';
import { Lab } from '../bench/lab.ts';
import { surveyScreenTimes } from '../bench/survey-screens.ts';

/** The measure of tests/bench at a small size, so that it cannot rot. Nothing timed decides here. */
describe('the bench of the core map', () => {
  let lab: Lab;
  beforeAll(async () => {
    lab = await Lab.open([CORES_PAGE]);
  });
  afterAll(() => lab.close());

  it('opens each screen and moves the map about', async () => {
    const times = await coreMapTimes(lab, { blank_diameter_mm: 1000, measured: 5, slowed: 1, seconds: 0.5 });
    expect(times.cores).toBe(19);
    expect(times.entries).toBeGreaterThan(15);
    for (const screen of ['cores', 'core-gap', 'pin-pull', 'core-position']) {
      expect(times.opened_ms[screen]).toBeGreaterThan(0);
      expect(times.counted_ms[screen]).toBeGreaterThanOrEqual(times.opened_ms[screen]!);
    }
    expect(times.frames).toBeGreaterThan(1);
    expect(times.frame_p95_ms).toBeGreaterThanOrEqual(times.frame_p50_ms);
    expect(times.in_time).toBeGreaterThanOrEqual(0);
  });

  it('opens every screen of the surveys, before and after', async () => {
    const wanted = { blank_diameter_mm: 1000, wall: { angles: 8, heights: 2 }, measured: 8, slowed: 1, seconds: 0.2 };
    const times = await surveyScreenTimes(lab, wanted);
    expect(times.screens.length).toBeGreaterThan(10);
    for (const screen of times.screens) {
      expect(screen.first_ms).toBeGreaterThan(0);
      expect(screen.whole_first_ms).toBeGreaterThanOrEqual(screen.first_ms);
      expect(screen.whole_again_ms).toBeGreaterThanOrEqual(screen.again_ms);
      expect(screen.work_ms).toBeGreaterThan(0);
    }
  });
});
