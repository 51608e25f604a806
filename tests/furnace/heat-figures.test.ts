import { describe, expect, it } from 'vitest';
import { forecastOf, openingOf } from '../../shared/furnace/forecast.ts';
import { channelsIn, heatFigures, rateOverWindow } from '../../shared/furnace/heat-figures.ts';
import { allSamplesOf, instantsOf, type Sample, samplesOf, steadyMean } from '../../shared/logbook/state/samples.ts';
import { HOUR_MS, iso, roundBody, writeAt } from '../logbook/heat-world.ts';
import { at_ms, fresh, groups, heatIn, heatPlan, read, start, walk } from './furnace-world.ts';

/** Samples of one channel from hours and temperatures. */
const line = (channel: string, points: readonly (readonly [number, number])[]): Sample[] =>
  points.map(([hour, celsius]) => ({ t_ms: at_ms(hour), channel, celsius }));

describe('samples', () => {
  it('are every good temperature of a heat, oldest first, and no kW or rpm', () => {
    const tablet = fresh();
    start(tablet, 'P1');
    walk(tablet, 'P1', 2, { 'BP-0': 40.1, 'HZ-1': 12, 'SR-1': 0.1 });
    walk(tablet, 'P1', 1, { 'BP-0': 30.2, 'WU-1': 31 });
    expect(samplesOf(tablet.view(), heatIn(tablet, 'P1'))).toEqual([
      { t_ms: at_ms(1), channel: 'WU-1', celsius: 31 },
      { t_ms: at_ms(1), channel: 'BP-0', celsius: 30.2 },
      { t_ms: at_ms(2), channel: 'BP-0', celsius: 40.1 },
    ]);
  });

  it('of loggers stand beside those of the rounds, but for channels that a round calls dead or suspect', () => {
    const tablet = fresh();
    start(tablet, 'P1');
    walk(tablet, 'P1', 1, { 'BP-0': 30.2, 'BP-1': 30.4 });
    const body = roundBody(heatPlan('P1'), {
      readings: [{ channel: 'BP-1', value: null, state: 'dead', words: 'open' }],
    });
    writeAt(tablet, 'round', body, iso(at_ms(2)));
    const samples = [0.5, 1.5, 2.5].flatMap((hour) => [
      ...line('BP-0', [[hour, 30]]),
      ...line('BP-1', [[hour, 31]]),
      ...line('HZ-1', [[hour, 12]]),
    ]);
    const heat = heatIn(tablet, 'P1');
    const all = allSamplesOf(tablet.view(), heat, { name: 'a', samples: [...line('BP-0', [[-1, 20]]), ...samples] });
    expect(all.map((s) => [(s.t_ms - at_ms(0)) / HOUR_MS, s.channel])).toEqual([
      [0.5, 'BP-0'],
      [0.5, 'BP-1'],
      [1, 'BP-0'],
      [1, 'BP-1'],
      [1.5, 'BP-0'],
      [1.5, 'BP-1'],
      [2.5, 'BP-0'],
    ]);
    expect(allSamplesOf(tablet.view(), heat, null)).toBe(samplesOf(tablet.view(), heat));
    // More samples, a smaller doubt of the same rate.
    const steady = (step: number) =>
      Array.from({ length: 4 / step + 1 }, (_, k) => [k * step, 100 + 10 * k * step + (k % 2)] as const);
    const doubt = (step: number) => rateOverWindow(line('BP-0', steady(step)), new Set(['BP-0']), at_ms(4), 4)!;
    expect(doubt(0.25).standardError_K_h!).toBeLessThan(doubt(1).standardError_K_h!);
  });

  it('give a mean of the same channels at every instant, so that one which is read seldom makes no jump', () => {
    const often = Array.from({ length: 10 }, (_, h) => [h, 500] as const);
    const samples = [...line('FC-0', often), ...line('FC-1', [[5, 510]])];
    const { channels, points } = steadyMean(instantsOf(samples), new Set(['FC-0', 'FC-1']));
    expect(channels).toEqual(['FC-0']);
    expect(points.map((p) => p.celsius)).toEqual(often.map(() => 500));
  });
});

describe('the rate over a window', () => {
  const all = new Set(['FC-0', 'FC-1']);

  it('is the slope of the mean with its 95 % interval: Student’s t of NIST/SEMATECH e-Handbook, 1.3.6.7.2, at 3 degrees', () => {
    // By hand: hours 0 to 4, mean 100, 110.3, 119.7, 130.3, 139.7 °C; slope 9.94 K/h, residuals squared 0.156,
    // standard error √(0.156/3/10) = 0.0721, t(0.975, 3) = 3.182.
    const points = [0, 1, 2, 3, 4].map((h, k) => [h, [100, 110.3, 119.7, 130.3, 139.7][k]!] as const);
    const found = rateOverWindow(line('FC-0', points), all, at_ms(4), 4)!;
    const byHand = { slope: 0, squares: 0 };
    for (const [h, T] of points) byHand.slope += ((h - 2) * (T - 120)) / 10;
    for (const [h, T] of points) byHand.squares += (T - 120 - byHand.slope * (h - 2)) ** 2;
    const error = Math.sqrt(byHand.squares / 3 / 10);
    expect(found.rate_K_h).toBeCloseTo(byHand.slope, 9);
    expect(found.standardError_K_h).toBeCloseTo(error, 9);
    expect(found.expanded_K_h! / error).toBeCloseTo(3.182, 3);
    expect(found.readings).toBe(5);
  });

  it('takes what lies in the window alone, and the last two instants where that holds fewer', () => {
    const bent = line('FC-0', [
      [0, 0],
      [10, 100],
      [11, 105],
      [12, 110],
    ]);
    expect(rateOverWindow(bent, all, at_ms(12), 2)!.rate_K_h).toBeCloseTo(5, 9);
    const two = rateOverWindow(bent, all, at_ms(12), 0.5)!;
    expect(two.rate_K_h).toBeCloseTo(5, 9);
    expect(two.expanded_K_h).toBeNull();
    expect(rateOverWindow(bent.slice(0, 1), all, at_ms(12), 4)).toBeNull();
  });

  it('says nothing wild of a line without scatter', () => {
    const straight = line('FC-0', [
      [0, 10],
      [1, 20],
      [2, 30],
    ]);
    expect(rateOverWindow(straight, all, at_ms(2), 4)).toMatchObject({ rate_K_h: 10, expanded_K_h: 0 });
  });
});

describe('differences in the furnace', () => {
  it('are of the walls while there is no glass', () => {
    const tablet = fresh();
    start(tablet, 'P1');
    walk(tablet, 'P1', 20, {
      ...groups(['CR'], 126),
      ...groups(['WU'], 123),
      ...groups(['WL'], 119),
      ...groups(['BP'], 120),
      'BP-0': 118,
    });
    const view = tablet.view();
    const heat = heatIn(tablet, 'P1');
    const figures = heatFigures(view, heat, samplesOf(view, heat), at_ms(20.2));
    expect(figures.zones).toMatchObject({ value_K: 7 });
    expect(figures.vertical).toMatchObject({ name: 'upper less lower wall', value_K: 4 });
    expect(figures.radial).toMatchObject({ value_K: 2 });
    expect(channelsIn(view, heat, ['BP']).size).toBe(7);
  });

  it('are of face and back of the glass, less the baseline where one is recorded at every pair', () => {
    const tablet = fresh();
    start(tablet, 'P4');
    walk(tablet, 'P4', 4, { 'FC-0': 565.4, 'BP-0': 564.4, 'FC-3': 565.9, 'BP-3': 564.3 });
    const figures = () => {
      const view = tablet.view();
      const heat = heatIn(tablet, 'P4');
      return heatFigures(view, heat, samplesOf(view, heat), at_ms(4.1)).vertical!;
    };
    expect(figures().value_K).toBeCloseTo(1.3, 9);
    expect(figures().formula).toContain('no baseline');
    const pair = { operation: '11.3', characteristic: 'hold-baseline' };
    read(tablet, 4.05, { ...pair, station: 'FC-0-BP-0' }, 0.9);
    read(tablet, 4.05, { ...pair, station: 'FC-3-BP-3' }, 1.5);
    expect(figures().value_K).toBeCloseTo(0.1, 9);
    expect(figures().name).toContain('less baseline');
  });

  it('are not made of readings that are too old', () => {
    const tablet = fresh();
    start(tablet, 'P1');
    walk(tablet, 'P1', 2, { ...groups(['CR'], 40), ...groups(['WU'], 39) });
    const view = tablet.view();
    const heat = heatIn(tablet, 'P1');
    expect(heatFigures(view, heat, samplesOf(view, heat), at_ms(12))).toEqual({
      zones: null,
      vertical: null,
      radial: null,
    });
  });
});

describe('the forecast', () => {
  // P1: 20 to 120 °C at 10 K/h (10 h), soak 24 h, to 600 °C at 20 K/h (hours 34 to 58) …, 166.2 h in all; the plan's.
  const forecast = (hour: number, value: number, now = hour) => {
    const tablet = fresh();
    start(tablet, 'P1');
    walk(tablet, 'P1', hour, groups(['BP'], value));
    return forecastOf(tablet.view(), heatIn(tablet, 'P1'), at_ms(now))!;
  };
  const hoursOf = (ms: number): number => (ms - at_ms(0)) / HOUR_MS;

  it('shifts the rest of the plan by the hours that the furnace is behind in a ramp', () => {
    // At hour 46 the plan has 360 °C; at 340 °C the furnace stands where the plan is at hour 45.
    const late = forecast(46, 340);
    expect(late.behind_h).toBeCloseTo(1, 9);
    expect(hoursOf(late.next_ms)).toBeCloseTo(59, 6);
    expect(hoursOf(late.end_ms)).toBeCloseTo(167.2, 6);
    expect(forecast(46, 370).behind_h).toBeCloseTo(-0.5, 9);
  });

  it('says nothing is behind where the thermocouples could not tell', () => {
    // Guard of 0.99 K: 1.65 · 0.6 K.
    expect(forecast(46, 359.2).behind_h).toBe(0);
  });

  it('counts a soak that has not been reached as not begun', () => {
    // Hour 12, two hours into the soak at 120 °C, band 8 K: at 100 °C it is 20 K, two hours of the ramp, away.
    expect(forecast(12, 100).behind_h).toBeCloseTo(4, 9);
    expect(forecast(12, 115).behind_h).toBe(0);
    expect(forecast(12, 140).behind_h).toBe(0);
  });

  it('never lies before now', () => {
    expect(hoursOf(forecast(166, 60, 200).end_ms)).toBe(200);
  });

  it('tells the days to opening for the heats that lead there, and not for the preheat', () => {
    const tablet = fresh();
    start(tablet, 'P4');
    walk(tablet, 'P4', 10, groups(['FC', 'MC', 'BP'], 565));
    const view = tablet.view();
    const heat = heatIn(tablet, 'P4');
    const opening = openingOf(view, heat, forecastOf(view, heat, at_ms(10))!, at_ms(10))!;
    // The plan's own hours: 698.0 of the anneal and 1347.8 of the cool-down.
    expect(opening.days).toBeCloseTo((698 - 10 + 1347.81) / 24, 2);
    expect(opening.operation).toBe('12.1');
    const cold = fresh();
    start(cold, 'P1');
    walk(cold, 'P1', 20, groups(['BP'], 120));
    const preheat = heatIn(cold, 'P1');
    expect(openingOf(cold.view(), preheat, forecastOf(cold.view(), preheat, at_ms(20))!, at_ms(20))).toBeNull();
  });
});
