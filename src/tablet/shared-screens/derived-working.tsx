import type { Kept } from '../../../shared/logbook/log.ts';
import { type DerivedValue, RANGE } from '../../../shared/logbook/state/derived-value.ts';
import { stationLabel } from '../../../shared/logbook/state/findings.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { characteristicById } from '../../../shared/plan/lookup.ts';
import type { Characteristic } from '../../../shared/plan/schema.ts';
import { formatFigure } from '../parts/format-figure.ts';
import { CalculationWorking } from './calculation-working.tsx';
import { ReadingWorking } from './reading-working.tsx';
import { planSources } from './worked-kept.ts';
import './derived-working.css';

/** Where a derived value stands. */
export interface DerivedPlace {
  readonly operation: string;
  readonly characteristic: string;
  readonly station: string;
}

/** How a value follows from readings: the method, the verdict line by line, and the readings themselves. */
export function DerivedWorking({ view, ...place }: DerivedPlace & { view: View }) {
  const characteristic = characteristicById(view.plan, place.characteristic);
  const value = valueAt(view, place);
  if (!characteristic || !value) return <p>Its readings are not complete any more.</p>;
  return (
    <div class="derived-working">
      <p>{methodOf(characteristic, place.station)}</p>
      {value.worked && <CalculationWorking {...value.worked} name={characteristic.name} />}
      <ReadingWorking
        worked={{
          ...value,
          length: null,
          unit: characteristic.unit,
          sources: { ...planSources(view.plan), y: 'worked out', u: `plan ${view.plan.revision}` },
        }}
        caption={characteristic.name}
        limitsFrom={characteristic.source}
      />
      <Causes view={view} causes={value.causes} />
    </div>
  );
}

function valueAt(view: View, { operation, characteristic, station }: DerivedPlace): DerivedValue | null {
  if (station === RANGE) return view.judge?.range(view, characteristic, operation) ?? null;
  return view.judge?.derive(view, characteristic, operation)?.find((v) => v.station === station) ?? null;
}

const methodOf = ({ derivedFrom }: Characteristic, station: string): string =>
  station === RANGE
    ? 'Greatest reading less least, over all stations; its uncertainty is that of a reading times √2.'
    : (derivedFrom?.words ?? '');

function Causes({ view, causes }: { view: View; causes: readonly string[] }) {
  const readings = causes.flatMap((hash) => (view.log.get(hash) as Kept<'reading'> | undefined) ?? []);
  return (
    <details>
      <summary>
        From {readings.length} {readings.length === 1 ? 'reading' : 'readings'}
      </summary>
      <ul class="rows">
        {readings.map(({ hash, body }) => {
          const { decimals = 2, unit = '' } = characteristicById(view.plan, body.characteristic) ?? {};
          return (
            <li key={hash}>
              <a class="row" href={`/record/${hash}`}>
                <span class="grow">
                  {body.station === 'one' ? body.characteristic : stationLabel(view, body.characteristic, body.station)}
                  <span class="note"> operation {body.operation}</span>
                </span>
                <span class="n">
                  {formatFigure(body.value, { decimals })} {unit}
                </span>
              </a>
            </li>
          );
        })}
      </ul>
    </details>
  );
}
