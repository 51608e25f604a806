import fc from 'fast-check';
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { settling } from '../../shared/calculations/settling.ts';
import { seeded } from '../calculations/random-input.ts';
import { describeOutsideChecks, errorOf, publishedData, resultOf } from './outside-checks.ts';

/** Noise that is the same on every run: sum-free, about ±1. */
const noise = (k: number) => Math.sin(12.9898 * (k + 1)) + Math.cos(78.233 * (k + 1));
const levels = (count: number, every_h: number, level: (hour: number, k: number) => number) =>
  Array.from({ length: count }, (_, k) => ({ at_h: 140 + k * every_h, level_mm: level(k * every_h, k) }));

const model =
  ([final, fall, time]: number[]) =>
  (hour: number) =>
    (final as number) + (fall as number) * Math.exp(-hour / (time as number));

/** Final level, fall and time constant as ml-levenberg-marquardt finds them. */
const fitted = (data: { x: number[]; y: number[] }, initialValues: number[]) =>
  levenbergMarquardt(data, model, {
    initialValues,
    damping: 0.1,
    maxIterations: 500,
    errorTolerance: 1e-12,
    gradientDifference: 1e-6,
    centralDifference: true,
  }).parameterValues;

type Reading = { at_h: number; level_mm: number };
interface PublishedFit {
  inputs: { readings: Reading[] };
  expected: { final_level_mm: number; remaining_mm: number; time_constant_h: number };
}
const published = publishedData<PublishedFit[]>('settling');
describeOutsideChecks(settling);

describe('settling', () => {
  it('recovers the exponential that the levels were made from', () => {
    const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const any = fc.record({ final: within(100, 600), fall: within(1, 200), tau: within(0.3, 8) });
    fc.assert(
      fc.property(any, ({ final, fall, tau }) => {
        const result = resultOf(settling, {
          readings: levels(16, 0.5, (hour) => final + fall * Math.exp(-hour / tau)),
        });
        expect((result.time_constant_h as number) / tau).toBeCloseTo(1, 6);
        expect(result.final_level_mm).toBeCloseTo(final, 5);
        expect(result.remaining_mm).toBeCloseTo(fall * Math.exp(-7.5 / tau), 5);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('agrees with the fit of ml-levenberg-marquardt, and no nearby curve fits better', () => {
    for (const tau of [0.7, 1.5, 3]) {
      const readings = levels(20, 0.4, (hour, k) => 405 + 25 * Math.exp(-hour / tau) + 0.2 * noise(k));
      const result = resultOf(settling, { readings });
      const data = { x: readings.map((r) => r.at_h - 140), y: readings.map((r) => r.level_mm) };
      const oracle = fitted(data, [404, 24, tau * 1.2]);
      expect(result.final_level_mm).toBeCloseTo(oracle[0] as number, 3);
      expect(result.time_constant_h).toBeCloseTo(oracle[2] as number, 3);
      const final = result.final_level_mm as number;
      const time = result.time_constant_h as number;
      const fall = (result.remaining_mm as number) * Math.exp(7.6 / time);
      const squares = (p: number[]) => data.x.reduce((s, x, k) => s + (model(p)(x) - (data.y[k] as number)) ** 2, 0);
      const best = squares([final, fall, time]);
      for (const [a, b, c] of [
        [1e-3, 0, 0],
        [-1e-3, 0, 0],
        [0, 1e-3, 0],
        [0, -1e-3, 0],
        [0, 0, 1e-3],
        [0, 0, -1e-3],
      ] as const) {
        expect(squares([final + a, fall + b, time + c])).toBeGreaterThan(best);
      }
    }
  });

  it('fits no worse than the published constants of R on the same readings', () => {
    const residuals = (readings: Reading[], final: number, remaining: number, time: number) => {
      const last = Math.max(...readings.map((r) => r.at_h));
      return readings.reduce(
        (sum, r) => sum + (r.level_mm - final - remaining * Math.exp((last - r.at_h) / time)) ** 2,
        0,
      );
    };
    for (const { inputs, expected } of published) {
      const result = resultOf(settling, inputs);
      const ours = residuals(
        inputs.readings,
        result.final_level_mm as number,
        result.remaining_mm as number,
        result.time_constant_h as number,
      );
      const theirs = residuals(
        inputs.readings,
        expected.final_level_mm,
        expected.remaining_mm,
        expected.time_constant_h,
      );
      expect(ours).toBeLessThanOrEqual(theirs * (1 + 1e-12));
    }
  });

  it('agrees with ml-levenberg-marquardt on forty settlings of seeded size, speed and noise', () => {
    const random = seeded(31);
    const between = (low: number, high: number) => low + (high - low) * random();
    for (let run = 0; run < 40; run++) {
      const [final, fall, tau] = [between(50, 600), between(5, 80), between(0.8, 4)];
      const readings = levels(25, 0.4, (hour) => final + fall * Math.exp(-hour / tau) + 0.1 * between(-1, 1));
      const result = resultOf(settling, { readings });
      const data = { x: readings.map((r) => r.at_h - 140), y: readings.map((r) => r.level_mm) };
      const oracle = fitted(data, [final, fall, tau]);
      expect(result.final_level_mm).toBeCloseTo(oracle[0] as number, 4);
      expect(result.time_constant_h).toBeCloseTo(oracle[2] as number, 4);
      expect(result.remaining_mm).toBeCloseTo((oracle[1] as number) * Math.exp(-9.6 / (oracle[2] as number)), 4);
    }
  });

  it('gives the standard error of the remaining fall that the covariance of the fit gives (ml-matrix)', () => {
    const tau = 2;
    const readings = levels(20, 0.4, (hour, k) => 405 + 25 * Math.exp(-hour / tau) + 0.2 * noise(k));
    const result = resultOf(settling, { readings });
    const time = result.time_constant_h as number;
    const fall = (result.remaining_mm as number) * Math.exp(7.6 / time);
    const final = result.final_level_mm as number;
    const hours = readings.map((r) => r.at_h - 140);
    const jacobian = new Matrix(
      hours.map((h) => [1, Math.exp(-h / time), ((fall * h) / time ** 2) * Math.exp(-h / time)]),
    );
    const squares = readings.reduce(
      (s, r, k) => s + (r.level_mm - final - fall * Math.exp(-(hours[k] as number) / time)) ** 2,
      0,
    );
    const covariance = inverse(jacobian.transpose().mmul(jacobian)).mul(squares / (20 - 3));
    const slope = Matrix.rowVector([0, Math.exp(-7.6 / time), ((fall * 7.6) / time ** 2) * Math.exp(-7.6 / time)]);
    const variance = slope.mmul(covariance).mmul(slope.transpose()).get(0, 0);
    expect(result.remaining_standard_error_mm).toBeCloseTo(Math.sqrt(variance), 8);
  });

  it('is settled only when little remains and the record spans two time constants', () => {
    const tau = 1.1;
    const at = (count: number) =>
      resultOf(settling, {
        readings: levels(count, 0.25, (hour, k) => 405 + 12 * Math.exp(-hour / tau) + 0.01 * noise(k)),
      });
    expect(at(25).settled).toBe(true);
    expect(at(10).settled).toBe(false);
    // 0.4 mm remain after half a time constant: little, but the record is too short.
    const short = resultOf(settling, { readings: levels(12, 0.05, (hour) => 405 + 0.6 * Math.exp(-hour / 1.1)) });
    expect(short.remaining_mm).toBeLessThan(0.5);
    expect(short.settled).toBe(false);
  });

  it('tells no settling from a straight fall, a steady level or a rise, and gives the rate', () => {
    const straight = resultOf(settling, {
      readings: levels(20, 0.5, (hour, k) => 420 - 2 * hour + (k % 2 === 0 ? 0.05 : -0.05)),
    });
    expect(straight).toMatchObject({ final_level_mm: null, time_constant_h: null, remaining_mm: null, settled: false });
    expect(straight.reason).toBe('a straight line fits as well: no settling to be told');
    expect(Math.abs((straight.rate_mm_h as number) + 2)).toBeLessThan(0.02);
    expect(straight.rate_standard_error_mm_h).toBeGreaterThan(0);
    const steady = resultOf(settling, { readings: levels(10, 1, () => 405) });
    expect(steady).toMatchObject({ settled: false, rate_mm_h: 0, rate_standard_error_mm_h: 0 });
    const rise = resultOf(settling, { readings: levels(20, 0.5, (hour) => 420 - 12 * Math.exp(-hour / 2)) });
    expect(rise).toMatchObject({ final_level_mm: null, settled: false, reason: 'the level rises' });
  });

  it('takes a noisy straight fall for a settling no more often than its F test allows', () => {
    // Seeded normal noise (Park and Miller's generator, Box and Muller's transform).
    let state = 20;
    const uniform = () => {
      state = (state * 48271) % 2147483647;
      return state / 2147483647;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const runs = 400;
    let taken = 0;
    for (let run = 0; run < runs; run++) {
      const result = resultOf(settling, { readings: levels(12, 0.5, (hour) => 420 - 2 * hour + 0.1 * normal()) });
      if (result.time_constant_h !== null) taken++;
    }
    // 5 % by chance, about half of them bent the other way, where no settling fits.
    expect(taken / runs).toBeGreaterThan(0.005);
    expect(taken / runs).toBeLessThan(0.05);
  });

  it('keeps its answer when hours and levels are shifted and readings come in another order', () => {
    const readings = levels(14, 0.5, (hour, k) => 405 + 20 * Math.exp(-hour / 1.5) + 0.05 * noise(k));
    const one = resultOf(settling, { readings });
    const moved = readings.map((r) => ({ at_h: r.at_h - 140, level_mm: r.level_mm + 1000 })).toReversed();
    const other = resultOf(settling, { readings: moved });
    expect(other.final_level_mm as number).toBeCloseTo((one.final_level_mm as number) + 1000, 6);
    expect(other.time_constant_h).toBeCloseTo(one.time_constant_h as number, 8);
    expect(other.remaining_mm).toBeCloseTo(one.remaining_mm as number, 8);
  });

  it('says so when the fall is over between two readings', () => {
    const jump = resultOf(settling, { readings: levels(8, 1, (_, k) => (k === 0 ? 410 : 405)) });
    expect(jump.time_constant_h).toBeNull();
    expect(jump.reason).toBe(
      'the readings tell no time constant: the fall is over between two of them, or outlasts them by far',
    );
  });

  it.each([
    [{ readings: levels(4, 1, () => 1) }, 'readings', 'needs at least 5 readings'],
    [{ readings: levels(5, 0, () => 1) }, 'readings', 'need at least 3 different times'],
    [{ readings: levels(5, 1, () => 1), settled_mm: 0 }, 'settled_mm', 'must be greater than 0: what may still remain'],
    [{ readings: levels(5, 1, (_, k) => (k - 2) * 0.8e308) }, 'readings', 'lie too far apart to be computed'],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(settling, input)).toEqual({ path, message });
  });
});
