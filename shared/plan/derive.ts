import { type Calculation, RefusedInput, runCalculation } from '../calculations/calculation.ts';
import type { Derivation } from './schema.ts';

/** A calculation that was run for the plan: its result, and the derivation of any of its outputs. */
export interface Derived<O> {
  readonly result: O;
  from(output: string & keyof O, how?: Pick<Derivation, 'factor' | 'addend' | 'stationInput'>): Derivation;
}

/**
 * Runs a calculation for the design of a blank.
 * @param paths the design's key for an input's key, where they differ
 * @throws {RefusedInput} with the path of the field of the design that is to blame
 */
export function derive<I extends object, O extends object>(
  calculation: Calculation<I, O>,
  input: I,
  paths: Readonly<Record<string, string>> = {},
): Derived<O> {
  const outcome = runCalculation(calculation, input);
  if ('error' in outcome) {
    const { path, message } = outcome.error;
    throw new RefusedInput(paths[path] ?? path, message);
  }
  const { result } = outcome;
  return {
    result,
    from: (output, how = {}) => ({
      calculation: calculation.name,
      input: { ...input } as Record<string, unknown>,
      output,
      ...how,
    }),
  };
}
