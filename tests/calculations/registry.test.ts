import { describe, expect, it } from 'vitest';
import {
  type Calculation,
  type Outcome,
  runCalculation,
  type WorkingLine,
} from '../../shared/calculations/calculation.ts';
import { calculationNamed, calculations } from '../../shared/calculations/registry.ts';
import { inputMaker, seeded } from './random-input.ts';

/** The contract's names and those that came since, written out. */
const contract = `
  normal-gravity spin spin-check mould-diameter core-layout core-height core-uplift glass-mass spherometer load-balance
  permissible-unbalance load-share band-load
  length-at-20 uncertainty conformity circle-fit lobes plane-fit control-chart grubbs sampling-plan
  thermocouple viscosity slot-fill cooling-stress cooling-rate conduction-slab heat-plan rate settling band-mismatch
  critical-path entry-hash merkle-root
  viscoelastic-slab thermocouple-tolerance sensor-correction
`
  .trim()
  .split(/\s+/);

/** The first part of a value that is not a finite number, if any. */
function notFinite(value: unknown): string | undefined {
  if (typeof value === 'number') return Number.isFinite(value) ? undefined : String(value);
  if (value === null || typeof value !== 'object') return undefined;
  for (const [key, part] of Object.entries(value)) {
    const found = notFinite(part);
    if (found) return `${key}: ${found}`;
  }
  return undefined;
}

function faultOfWorking(lines: WorkingLine[]): string | undefined {
  for (const line of lines) {
    const text = [line.symbol, line.meaning, line.formula ?? '', line.source, line.unit].join(' ');
    if (/NaN|Infinity|undefined|\[object/.test(text)) return text;
  }
  return lines.length === 0 ? 'no lines' : undefined;
}

/** What is wrong with an outcome, if anything. */
function faultOf(calculation: Calculation, outcome: Outcome<unknown>): string | undefined {
  if ('error' in outcome) {
    const { path, message } = outcome.error;
    if (typeof path !== 'string' || message.length < 5) return `empty refusal at ${path}`;
    return /NaN|Infinity|undefined|\[object|Error:|\bat .*:\d+/.test(message) ? `refusal says: ${message}` : undefined;
  }
  const parsed = calculation.output.safeParse(outcome.result);
  if (!parsed.success) return `output refused by its schema: ${JSON.stringify(parsed.error.issues[0])}`;
  const wrong = notFinite(outcome.result) ?? notFinite(outcome.working);
  return wrong ? `not finite: ${wrong}` : faultOfWorking(outcome.working);
}

/** An input that the calculation answers, found by trying. */
function acceptedInput(calculation: Calculation): Record<string, unknown> {
  const make = inputMaker(calculation.input);
  const random = seeded(1);
  for (let run = 0; run < 5000; run++) {
    const input = make(random, 0);
    if ('result' in runCalculation(calculation, input)) return input as Record<string, unknown>;
  }
  throw new Error(`no input found that ${calculation.name} answers`);
}

describe('the registry', () => {
  it('holds the names of the contract and those that came since, and no other', () => {
    expect(calculations.map((c) => c.name).toSorted()).toEqual(contract.toSorted());
  });

  it('finds each by its name, and nothing by another', () => {
    for (const name of contract) expect(calculationNamed(name)?.name).toBe(name);
    expect(calculationNamed('toString')).toBeUndefined();
  });

  it.each(calculations.map((c) => [c.name, c] as const))('%s has a title, formula, validity and source', (_name, c) => {
    for (const text of [c.title, c.formula, c.validity, c.source]) expect(text.length).toBeGreaterThan(5);
    expect(c.version).toBeGreaterThanOrEqual(1);
  });
});

describe.each(calculations.map((c) => [c.name, c] as const))('%s', (name, calculation) => {
  it('refuses what is no object, an unknown key and a missing key, in our own words', () => {
    for (const input of [undefined, null, 5, 'text', []]) {
      expect(runCalculation(calculation, input)).toEqual({
        error: { path: '', message: input === undefined ? 'is missing' : 'must be an object' },
      });
    }
    expect(runCalculation(calculation, {})).toMatchObject({ error: { message: 'is missing' } });
    const stray = { ...acceptedInput(calculation), nothing_like_it: 1 };
    expect(runCalculation(calculation, stray)).toEqual({
      error: { path: '', message: 'has unknown keys: nothing_like_it' },
    });
  });

  it('names the key that is of the wrong kind', () => {
    const accepted = acceptedInput(calculation);
    // Any JSON at all may stand in an entry; it has refusals of its own.
    for (const key of Object.keys(accepted).filter((k) => name !== 'entry-hash' || k !== 'entry')) {
      for (const wrong of [{}, Number.NaN, '5']) {
        const outcome = runCalculation(calculation, { ...accepted, [key]: wrong });
        expect(outcome, key).toHaveProperty('error.path', key);
        expect(outcome).toHaveProperty('error.message', expect.stringMatching(/^(must be|is not of a form)/));
      }
    }
  });

  it('survives twenty thousand random inputs, half of them near to sensible', { timeout: 180_000 }, () => {
    const make = inputMaker(calculation.input);
    const random = seeded([...name].reduce((sum, letter) => sum * 31 + letter.charCodeAt(0), 7));
    let answered = 0;
    for (let run = 0; run < 20_000; run++) {
      const input = make(random, run % 2 === 0 ? 0 : 0.15);
      let fault: string | undefined;
      try {
        const outcome = runCalculation(calculation, input);
        fault = faultOf(calculation, outcome);
        if ('result' in outcome) answered++;
      } catch (error) {
        fault = `threw ${error}`;
      }
      if (fault) expect.fail(`${fault}\nfor ${JSON.stringify(input)?.slice(0, 1500)}`);
    }
    // A generator that only ever meets refusals would prove nothing.
    expect(answered).toBeGreaterThan(50);
  });
});
