import { useMemo } from 'preact/hooks';
import { isChangeKnown, readBefore } from '../../../../shared/logbook/state/change-between.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Survey } from './survey-of.ts';

/** To what has changed since the same stations were read before, once some have been read twice. */
export function ChangeLink({ view, survey: { operation, characteristic } }: { view: View; survey: Survey }) {
  const before = readBefore(characteristic, operation.id);
  const some = useMemo(
    () => before !== null && isChangeKnown(view, characteristic, before, operation.id),
    [view, characteristic, before, operation.id],
  );
  if (!some) return null;
  return (
    <a class="button" href={`/change/${operation.id}/${characteristic.id}`}>
      Change since {before}
    </a>
  );
}
