import type { Calculation } from './calculation.ts';
import { heat } from './groups/heat.ts';
import { measuring } from './groups/measuring.ts';
import { shapeAndPlanning } from './groups/shape-and-planning.ts';

/** Every calculation, once; the tablet's working, the desk command, docs/method.md and the tests read this list. */
const all = [...shapeAndPlanning, ...measuring, ...heat];

// The list is heterogeneous; each entry checks its own input before it computes.
export const calculations: readonly Calculation[] = all as unknown as readonly Calculation[];

export const calculationNamed = (name: string): Calculation | undefined => calculations.find((c) => c.name === name);
