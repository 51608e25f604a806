import type { Kept } from '../../../../shared/logbook/log.ts';
import type { Condition, Worst } from '../../../../shared/logbook/state/conditions.ts';
import { RANGE } from '../../../../shared/logbook/state/derived-value.ts';
import { stationLabel } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Figure } from '../../parts/figure.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { DerivedWorking, KeptWorking } from '../../shared-screens/kept-working.tsx';

interface Props {
  readonly view: View;
  readonly condition: Condition;
  readonly worst: Worst;
  readonly onClose: () => void;
}

/** How the worst value of a condition came about, from what was read to its verdict. */
export function WorstWorking({ view, condition, worst, onClose }: Props) {
  const { unit = '', decimals = 2, title } = condition;
  const reading = worst.reading === null ? null : (view.log.get(worst.reading) as Kept<'reading'> | undefined);
  return (
    <Overlay title={title} onClose={onClose}>
      <p class="small dim">Nearest to its limits, or furthest past them{placeOf(view, worst)}:</p>
      <p class="reading">
        <Figure value={worst.value} decimals={decimals} unit={unit} />
      </p>
      {reading ? (
        <>
          <KeptWorking view={view} reading={reading} />
          <a class="button" href={`/record/${reading.hash}`}>
            The reading in the record
          </a>
        </>
      ) : (
        <DerivedWorking view={view} {...worst} />
      )}
    </Overlay>
  );
}

function placeOf(view: View, { characteristic, station }: Worst): string {
  if (station === 'one') return '';
  return station === RANGE ? ', the range over all stations' : `, at ${stationLabel(view, characteristic, station)}`;
}
