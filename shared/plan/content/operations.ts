import type { EvaluatedDesign } from '../evaluate-design.ts';
import type { Operation } from '../schema.ts';
import type { OperationSheet } from './links.ts';
import { turntable } from './operations-1-turntable.ts';
import { tub } from './operations-2-tub.ts';
import { furnace } from './operations-3-furnace.ts';
import { preheat } from './operations-4-preheat.ts';
import { liningAndCores } from './operations-6-cores.ts';
import { coreBake } from './operations-7-core-bake.ts';
import { glass } from './operations-8-glass.ts';
import { firing } from './operations-9-firing.ts';
import { anneal } from './operations-11-anneal.ts';
import { lift } from './operations-12-lift.ts';
import { cleanOut } from './operations-13-clean-out.ts';
import { release } from './operations-14-release.ts';
import { orderReasons } from './order-reasons.ts';

/** The first items of every check sheet. */
export const commonChecks: readonly string[] = [
  'Permits and isolations for this work seen and in date',
  'Plan revision on the tablet is the one posted in the hall',
  'Instruments to be used are in calibration and their numbers entered',
];

function operationOf({ sheetPer, heatPlan, rounds, ...sheet }: OperationSheet): Operation {
  return {
    ...sheet,
    after: sheet.after.map((link) => withReason(sheet.id, link)),
    stage: sheet.id.split('.')[0]!,
    checks: [...commonChecks, ...sheet.checks].map((item, index) => ({
      id: `c${index + 1}`,
      ...(typeof item === 'string' ? { text: item } : item),
    })),
    sheetPer: sheetPer ?? 'operation',
    heatPlan: heatPlan ?? null,
    rounds: rounds ?? null,
  };
}

function withReason(operation: string, link: OperationSheet['after'][number]): OperationSheet['after'][number] {
  const why = link.type === 'SF' ? undefined : orderReasons[operation]?.[`${link.type} ${link.id}`];
  return why === undefined ? link : { ...link, why };
}

/** The sequence, in its order. */
export const operations = (w: EvaluatedDesign): Operation[] =>
  [
    ...turntable(w),
    ...tub(w),
    ...furnace(),
    ...preheat(w),
    ...liningAndCores(w),
    ...coreBake(w),
    ...glass(),
    ...firing(w),
    ...anneal(w),
    ...lift(),
    ...cleanOut(w),
    ...release(),
  ].map(operationOf);
