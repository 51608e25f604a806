import * as z from 'zod/mini';
import { defineCalculation, given, RefusedInput, workedOut } from './calculation.ts';
import { AQLS, CODE_LETTERS, LEVELS, letterRow, type SamplePlan, samplePlan } from './numeric/sampling-tables.ts';

const input = z.strictObject({
  lot_size: z.int().check(z.gte(2, 'must be at least 2: a lot')),
  aql_percent: z.number().check(z.gt(0, 'must be greater than 0')),
  level: z.optional(z.enum(LEVELS)),
  inspection: z.optional(z.enum(['normal', 'tightened', 'reduced'])),
});
const output = z.strictObject({
  code_letter: z.string(),
  sample_size: z.int(),
  accept: z.int(),
  reject: z.int(),
  /** The table's sample size, which may exceed the lot. */
  table_sample_size: z.int(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

function lookUp(i: Input): { row: number; plan: SamplePlan } {
  const column = (AQLS as readonly number[]).indexOf(i.aql_percent);
  if (column < 0) throw new RefusedInput('aql_percent', `must be one of the table's: ${AQLS.join(', ')}`);
  const row = letterRow(i.lot_size, i.level ?? 'II');
  return { row, plan: samplePlan(i.inspection ?? 'normal', row, column) };
}

const arrowsSaid = (moved: number): string =>
  moved === 0 ? 'the letter’s own row' : `arrow ${moved > 0 ? 'down' : 'up'} ${Math.abs(moved)} rows`;

/** How many of a lot to inspect, and with how many nonconforming ones it is still accepted. */
export const samplingPlan = defineCalculation<Input, Output>({
  name: 'sampling-plan',
  title: 'Sampling by attributes',
  group: 'Measuring and judging',
  source:
    'ISO 2859-1:1989, tables I, II-A, II-B and II-C, single sampling (the tables of MIL-STD-105E); reduced inspection with its gap between accept and reject',
  formula: 'lot size, level → code letter; code letter, AQL → sample size, accept, reject',
  validity:
    'For a series of lots with the switching rules of the standard. A sample as large as the lot or larger: inspect all.',
  version: 1,
  input,
  output,
  compute(i) {
    const { row, plan } = lookUp(i);
    return {
      code_letter: CODE_LETTERS[row]!,
      sample_size: Math.min(plan.size, i.lot_size),
      accept: plan.numbers[0],
      reject: plan.numbers[1],
      table_sample_size: plan.size,
    };
  },
  working(i, o) {
    const level = i.level ?? 'II';
    const inspection = i.inspection ?? 'normal';
    const arrow = arrowsSaid(lookUp(i).plan.moved);
    const table = { normal: 'II-A', tightened: 'II-B', reduced: 'II-C' }[inspection];
    return [
      given('N', 'lot size', i.lot_size, ''),
      given('AQL', 'acceptance quality limit', i.aql_percent, '%'),
      given('level', 'inspection level', level, '', i.level === undefined ? 'usual' : 'given'),
      given('inspection', 'severity', inspection, '', i.inspection === undefined ? 'usual' : 'given'),
      workedOut(
        'letter',
        'code letter',
        o.code_letter,
        '',
        `lot of ${i.lot_size} at level ${level}`,
        'ISO 2859-1 table I',
      ),
      workedOut(
        'n',
        'sample size',
        o.sample_size,
        '',
        o.table_sample_size >= i.lot_size
          ? `${arrow}: ${o.table_sample_size}, not less than the lot: inspect all`
          : `${arrow}: ${o.table_sample_size}`,
        `ISO 2859-1 table ${table}`,
      ),
      workedOut('Ac', 'accept with this many nonconforming or fewer', o.accept, '', arrow, `ISO 2859-1 table ${table}`),
      workedOut('Re', 'reject with this many or more', o.reject, '', arrow, `ISO 2859-1 table ${table}`),
    ];
  },
});
