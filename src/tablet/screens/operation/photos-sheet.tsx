import { photosOf, type WantedPhotos, wantedPhotos } from '../../../../shared/logbook/state/photos.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { AddPhoto, type PhotoPlace } from '../../shared-screens/photos/add-photo.tsx';
import { PhotoStrip } from '../../shared-screens/photos/photo-strip.tsx';
import { shotsOfPhotos } from '../../shared-screens/photos/shots.ts';
import { SaidBy } from '../../shared-screens/said-by.tsx';

/** The photos of an operation: those that the plan wants, line by line, and all others. */
export function PhotosSheet({ view, operation }: { view: View; operation: Operation }) {
  const lines = wantedPhotos(view, operation);
  const answered = lines.filter((line) => line.entries.length > 0).length;
  const others = photosOf(view, operation.id).filter(({ body }) => body.wanted === undefined);
  return (
    <div id="photos">
      <Sheet title="Photos" aside={lines.length > 0 ? `${answered} of ${lines.length} wanted` : undefined}>
        <ul class="rows">
          {lines.map((line) => (
            <li key={line.wanted}>
              <Line view={view} operation={operation.id} line={line} />
            </li>
          ))}
          <li>
            <div class="photo-line">
              <div class="photo-line-head">
                <p class="grow">
                  Others
                  <span class="second small dim">of an item of the check sheet, or of anything seen here</span>
                </p>
                <AddPhoto
                  id={`operation/${operation.id}`}
                  title={`Operation ${operation.id}`}
                  places={placesOf(operation)}
                />
              </div>
              <PhotoStrip view={view} shots={shotsOfPhotos(view, others)} label="Other photos" />
            </div>
          </li>
        </ul>
      </Sheet>
    </div>
  );
}

function Line({ view, operation, line }: { view: View; operation: string; line: WantedPhotos }) {
  const { wanted, entries, count, none } = line;
  return (
    <div class="photo-line">
      <div class="photo-line-head">
        <p class="grow">
          {wanted}
          <span class="second small dim">
            {none ? `none to take: ${entries[0]!.body.words}` : count === 0 ? 'not taken yet' : countWords(count)}
          </span>
          {none && <SaidBy view={view} kept={anyKind(entries[0]!)} />}
        </p>
        <AddPhoto
          id={`operation/${operation}/${wanted}`}
          title={wanted}
          places={[{ label: wanted, of: { operation, wanted } }]}
        />
      </div>
      <PhotoStrip view={view} shots={shotsOfPhotos(view, entries)} label={wanted} />
    </div>
  );
}

const countWords = (count: number): string => (count === 1 ? '1 photo' : `${count} photos`);

const placesOf = ({ id, checks }: Operation): readonly [PhotoPlace, ...PhotoPlace[]] => [
  { label: 'The operation in general', of: { operation: id } },
  ...checks.map((check, i) => ({ label: `Item ${i + 1}: ${check.text}`, of: { operation: id, item: check.id } })),
];
