import type { LimitsAt } from '../../../../shared/plan/lookup.ts';
import type { Characteristic } from '../../../../shared/plan/schema.ts';
import { settings } from '../../app/settings.ts';
import { type Shown, shownIn, typingUnit } from '../../app/units.ts';

/** How the person at the tablet reads figures of a characteristic. A component that asks is drawn again with them. */
export const shownNow = (characteristic: Characteristic): Shown =>
  shownIn(characteristic, typingUnit(characteristic.unit, settings.value));

/** What is drawn of a judged value, in the person's unit. */
export function judgedIn<T extends { value: number; limits: LimitsAt; guard: number }>(shown: Shown, judged: T): T {
  const { value, limits, guard } = judged;
  return { ...judged, value: shown.value(value), limits: shown.limits(limits), guard: shown.span(guard) };
}
