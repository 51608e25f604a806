import { RefusedInput } from '../calculations/calculation.ts';
import { type EvaluatedDesign, evaluateDesign } from './evaluate-design.ts';
import { coolingFigures } from './figures-cooling.ts';
import { massFigures } from './figures-mass.ts';
import { shapeFigures } from './figures-shape.ts';
import type { DerivedFigure } from './schema.ts';

export type DerivedFigures =
  | { readonly figures: readonly DerivedFigure[] }
  | { readonly error: { readonly path: string; readonly message: string } };

/** What follows from a design that has been worked out, in the order in which a person reads it. */
export const figuresOf = (w: EvaluatedDesign): DerivedFigure[] => [
  ...shapeFigures(w),
  ...massFigures(w),
  ...coolingFigures(w),
];

/**
 * What follows from a design, for the screen that shows it while the design is typed. An impossible design gives the
 * field that is to blame and why, never a throw.
 */
export function derivedFigures(design: unknown): DerivedFigures {
  try {
    return { figures: figuresOf(evaluateDesign(design)) };
  } catch (error) {
    if (error instanceof RefusedInput) return { error: { path: error.path, message: error.message } };
    throw error;
  }
}
