import type { Kept } from '../log.ts';
import { changesOf, isBeforeChange } from './core-changes.ts';
import { latest } from './latest.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

/** Which core stands at an address, and which stood there before. */
export interface CoreAtAddress {
  /** As marked on it; null while nobody has entered it. */
  readonly serial: string | null;
  readonly by: Kept<'core'> | Kept<'core-change'> | null;
  /** Every change that stands, oldest first. */
  readonly changes: readonly Kept<'core-change'>[];
}

export function coreAt(view: View, address: string): CoreAtAddress {
  return view.memo.get(`core at/${address}`, () => {
    const changes = [...changesOf(view, address)].sort(byTime);
    const named = live(view, `core/${address}`, 'core').filter(
      (line) => !changes.some((change) => isBeforeChange(view, anyKind(line), change)),
    );
    const by = latest(view, [...named].sort(byTime)).at(-1) ?? latest(view, changes).sort(byTime).at(-1) ?? null;
    return { serial: by?.body.serial ?? null, by, changes };
  });
}

/** The other address at which the same serial stands, if there is one: a core can be in one place only. */
export function alsoAt(view: View, serial: string, address: string): string | null {
  for (const scope of view.log.scopeNames('core/')) {
    const other = scope.slice('core/'.length);
    if (other !== address && coreAt(view, other).serial === serial) return other;
  }
  return null;
}
