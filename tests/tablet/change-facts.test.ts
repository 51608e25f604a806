import { describe, expect, it } from 'vitest';
import { binsOf, changeFacts, isStable, runsOf } from '../../src/tablet/screens/survey/change/change-facts.ts';

/** NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, the flow rate example. */
const FLOWRATE = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

describe('what the changes of a batch say', () => {
  it('has the limits of the published example of single values', () => {
    const facts = changeFacts(FLOWRATE)!;
    expect(facts.mean).toBeCloseTo(50.81, 10);
    // The handbook: centre 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159.
    expect(facts.upper).toBeCloseTo(55.8041, 3);
    expect(facts.lower).toBeCloseTo(45.8159, 3);
    expect(facts.signals.size).toBe(0);
    expect(isStable(facts)).toBe(true);
  });

  it('names the one that stands out, by the chart and by the outlier test', () => {
    const values = [-0.9, -1.1, -1, -0.95, -1.05, -1, -0.98, 3, -1.02, -1, -0.97, -1.03];
    const facts = changeFacts(values)!;
    expect([...facts.signals].find(([i]) => i === 7)?.[1]).toContain(1);
    expect(facts.outlier).toBe(7);
    expect(runsOf(facts)).toContainEqual({
      words: expect.stringMatching(/beyond three standard deviations.*outlier/),
      at: [7],
    });
    expect(isStable(facts)).toBe(false);
  });

  it('sees a drift in the order in which it came, that another order hides', () => {
    const drift = Array.from({ length: 16 }, (_, i) => (i < 8 ? -0.2 : 0.2) + 0.01 * ((i * 7) % 5));
    const mixed = drift.map((_, i) => drift[(i * 7) % 16]!);
    expect(isStable(changeFacts(drift)!)).toBe(false);
    expect(runsOf(changeFacts(drift)!).every((run) => run.words.length > 0)).toBe(true);
    expect(changeFacts(mixed)!.signals.size).toBe(0);
  });

  it('judges nothing of too few', () => {
    expect(changeFacts([1, 2, 3, 4])).toBeNull();
  });

  it('counts every change in one step of the spread, the greatest in the last', () => {
    const bins = binsOf(FLOWRATE);
    expect(bins.reduce((sum, b) => sum + b.count, 0)).toBe(FLOWRATE.length);
    expect(bins[0]!.from).toBe(47.6);
    expect(bins.at(-1)!.to).toBeCloseTo(53.6, 12);
    expect(bins.at(-1)!.count).toBeGreaterThan(0);
    expect(binsOf([2, 2, 2])).toEqual([{ from: 2, to: 2, count: 3 }]);
    expect(binsOf([])).toEqual([]);
  });
});
