import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { finite, temperatureC } from './fields.ts';
import { fitLine } from './numeric/line-fit.ts';

const input = z.strictObject({
  readings: z
    .array(z.strictObject({ at_h: finite(), temperature_C: temperatureC() }))
    .check(z.minLength(2, 'needs at least 2 readings')),
});
const output = z.strictObject({
  rate_K_h: z.number(),
  intercept_C: z.number(),
  standard_error_K_h: z.nullable(z.number()),
  residual_standard_deviation_K: z.nullable(z.number()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Rate of heating or cooling from readings, by least squares. */
export const rate = defineCalculation<Input, Output>({
  name: 'rate',
  title: 'Rate of heating or cooling',
  group: 'Heat and glass',
  source: 'JCGM 100:2008 (GUM) H.3: straight line by least squares',
  formula:
    'rate = Σ(t − t̄)(T − T̄) / Σ(t − t̄)²; intercept = T̄ − rate · t̄; s = √(Σ residual² / (n − 2)); u(rate) = s / √Σ(t − t̄)²',
  validity:
    'Readings about a straight line, times free of error, temperatures alike in uncertainty. Rising is positive.',
  version: 1,
  input,
  output,
  compute({ readings }) {
    const times = readings.map((r) => r.at_h);
    if (times.every((t) => t === times[0])) throw new RefusedInput('readings', 'need at least 2 different times');
    const line = fitLine(
      times,
      readings.map((r) => r.temperature_C),
    );
    return {
      rate_K_h: line.slope,
      intercept_C: line.intercept,
      standard_error_K_h: line.slopeError,
      residual_standard_deviation_K: line.residualDeviation,
    };
  },
  working({ readings }, o) {
    const line = fitLine(
      readings.map((r) => r.at_h),
      readings.map((r) => r.temperature_C),
    );
    const lines: WorkingLine[] = [
      given('n', 'readings', readings.length, '–'),
      workedOut('t̄', 'mean time', line.meanX, 'h', 'Σt / n'),
      workedOut('T̄', 'mean temperature', line.meanY, '°C', 'ΣT / n'),
      workedOut('rate', 'rate, rising is positive', o.rate_K_h, 'K/h', 'Σ(t − t̄)(T − T̄) / Σ(t − t̄)²', 'GUM H.3'),
      workedOut(
        'T(0)',
        'intercept at hour 0',
        o.intercept_C,
        '°C',
        `${figure(line.meanY)} − ${figure(o.rate_K_h)} · ${figure(line.meanX)}`,
      ),
    ];
    if (o.standard_error_K_h === null) return lines;
    return [
      ...lines,
      workedOut(
        's',
        'standard deviation of the readings about the line',
        o.residual_standard_deviation_K,
        'K',
        `√(Σ residual² / (${readings.length} − 2))`,
      ),
      workedOut('u(rate)', 'standard error of the rate', o.standard_error_K_h, 'K/h', 's / √Σ(t − t̄)²', 'GUM H.3'),
    ];
  },
});
