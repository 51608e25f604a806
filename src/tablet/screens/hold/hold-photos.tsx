import { operationsOf } from '../../../../shared/logbook/state/hold-scope.ts';
import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import { wantedPhotos } from '../../../../shared/logbook/state/photos.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { operationById } from '../../../../shared/plan/lookup.ts';
import { PhotoStrip } from '../../shared-screens/photos/photo-strip.tsx';
import { shotsOfPhotos } from '../../shared-screens/photos/shots.ts';

/** The photos that the plan wants of the work behind a hold point: who signs looks at them, and sees what is lacking. */
export function HoldPhotos({ view, state }: { view: View; state: HoldState }) {
  const lines = operationsOf(state.hold).flatMap((id) => {
    const operation = operationById(view.plan, id);
    return operation ? wantedPhotos(view, operation).map((line) => ({ ...line, operation: id })) : [];
  });
  if (lines.length === 0) return null;
  const taken = lines.filter((line) => line.entries.length > 0);
  const lacking = lines.filter((line) => line.entries.length === 0);
  return (
    <section class="hold-photos photo-line" aria-label="Photos">
      <h3>
        Photos <span class="small dim">{`${taken.length} of ${lines.length} that the plan wants`}</span>
      </h3>
      {taken.map(({ operation, wanted, entries, none }) => (
        <div key={`${operation} ${wanted}`} class="photo-line">
          <p class="small">
            {operation} {wanted}
            {none && `: none to take, ${entries[0]!.body.words}`}
          </p>
          <PhotoStrip view={view} shots={shotsOfPhotos(view, entries)} label={wanted} />
        </div>
      ))}
      {lacking.length > 0 && (
        <details class="photo-lacking">
          <summary>{lacking.length === 1 ? '1 is not taken yet' : `${lacking.length} are not taken yet`}</summary>
          <ul class="rows">
            {lacking.map(({ operation, wanted }) => (
              <li key={`${operation} ${wanted}`}>
                <a class="row" href={`/sequence/${operation}#photos`}>
                  {operation} {wanted}
                </a>
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}
