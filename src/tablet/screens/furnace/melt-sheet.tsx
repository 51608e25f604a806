import { meltNow, meltOperation } from '../../../../shared/furnace/melt.ts';
import type { Heat } from '../../../../shared/logbook/state/rounds.ts';
import { mark } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { meltWord } from './melt-words.tsx';

/** The melt in one line on the furnace, and the way to its levels. */
export function MeltSheet({ view, heat }: { view: View; heat: Heat }) {
  const operation = meltOperation(view.plan, heat.plan);
  const melt = operation === undefined ? null : meltNow(view, operation);
  if (operation === undefined || !melt) return null;
  const read = melt.ports.some((p) => p.points.length > 0);
  // Before glass flows there is no level, and afterwards it stands in the record.
  if (!read && !mark(view, operation, 'started')) return null;
  return (
    <Sheet title="Melt" aside={meltWord(melt)}>
      <div class="pad stack-small">
        <p>{melt.ports.map((p) => `${p.station.label} ${p.state}`).join(', ')}.</p>
        <a class="button wide" href={`/furnace/${operation}/melt`}>
          Read the level
        </a>
      </div>
    </Sheet>
  );
}
