import type { Body, Typed } from '../../../shared/logbook/kinds.ts';
import { keptLength } from '../../../shared/logbook/state/judge-reading.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { characteristicById } from '../../../shared/plan/lookup.ts';
import type { Plan } from '../../../shared/plan/schema.ts';
import { planOf } from './plan-of.ts';
import type { Worked } from './working-of.ts';

/** What the working of a kept reading starts from: the numbers that it kept. */
export function workedKept(view: View, body: Body<'reading'>): Worked {
  const plan = planOf(view, body.plan);
  const characteristic = characteristicById(plan, body.characteristic);
  const length = keptLength(plan, body);
  return {
    value: body.value,
    standardUncertainty: body.standardUncertainty,
    limits: body.limits,
    length,
    unit: characteristic?.unit ?? '',
    sources: {
      ...planSources(plan),
      ...instrumentSources(
        body.instrument,
        length?.u_length_mm ?? body.standardUncertainty,
        characteristic?.uncertainty ?? null,
      ),
      L: typedAs(body.typed),
      y: typedAs(body.typed),
      t_p: typedAs(body.conditions.part_temperature_C),
      t_s: typedAs(body.conditions.scale_temperature_C),
    },
  };
}

const typedAs = (typed: Typed | undefined): string => (typed ? `typed ${typed.text} ${typed.unit}` : 'typed');

/** Where the numbers of a plan come from, by symbol. */
export const planSources = ({ revision }: Plan): Record<string, string> => ({
  α_p: `plan ${revision}`,
  'u(α_p)': `plan ${revision}`,
  'u(t_p)': 'plan, class ST',
  'u(t_s)': 'plan, class ST',
  'u(α_s)': 'common practice',
  lower: `plan ${revision}`,
  upper: `plan ${revision}`,
});

/**
 * Where the numbers of an instrument come from, by symbol; the id is null where none was named. Of plan and register the
 * greater uncertainty of a reading rules: `u` is the one that was used.
 */
export function instrumentSources(id: string | null, u: number, planned: number | null): Record<string, string> {
  const register = `register, ${id}`;
  const ruling = id !== null && u !== planned ? register : 'plan';
  return { α_s: id === null ? 'plan, its class' : register, 'u(L)': ruling, u: ruling };
}
