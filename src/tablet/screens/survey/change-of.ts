import { judge } from '../../../../shared/logbook/state/derived.ts';
import type { DerivedValue } from '../../../../shared/logbook/state/derived-value.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Characteristic } from '../../../../shared/plan/schema.ts';
import type { Survey } from './survey-of.ts';

/** A value worked out from a survey, with the characteristic that asks for it. */
export interface WorkedOutFrom {
  readonly characteristic: Characteristic;
  readonly values: readonly DerivedValue[];
}

/** Every derived characteristic of this operation that comes from these readings, and for which a derivation is known. */
export function workedOutFrom(view: View, { operation, characteristic }: Survey): WorkedOutFrom[] {
  const from = (ids: readonly string[]) =>
    view.plan.characteristics.filter(
      (c) =>
        c.kind === 'derived' &&
        c.operations.includes(operation.id) &&
        c.derivedFrom?.characteristics.some((id) => ids.includes(id)),
    );
  const first = from([characteristic.id]);
  const second = from(first.map((c) => c.id));
  return [...new Set([...first, ...second])].flatMap((c) => {
    const values = judge.derive(view, c.id, operation.id);
    return values === null ? [] : [{ characteristic: c, values }];
  });
}

/** The change at each station since an earlier survey, and the mean of it, where the plan asks for them. */
export interface Change {
  readonly byStation: WorkedOutFrom;
  readonly mean: WorkedOutFrom | null;
}

export function changeOf(view: View, survey: Survey): Change | null {
  const all = workedOutFrom(view, survey);
  const byStation = all.find((w) => w.characteristic.stations === survey.characteristic.stations);
  if (!byStation || survey.characteristic.stations === null) return null;
  const mean = all.find((w) => w.characteristic.derivedFrom?.characteristics.includes(byStation.characteristic.id));
  return { byStation, mean: mean ?? null };
}
