import type { Finding } from '../../../../shared/logbook/state/findings.ts';
import { photosAtStation, photosIn, photosOfFinding } from '../../../../shared/logbook/state/photos.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { AddPhoto } from '../../shared-screens/photos/add-photo.tsx';
import { PhotoStrip } from '../../shared-screens/photos/photo-strip.tsx';
import { shotsOf } from '../../shared-screens/photos/shots.ts';

/** The photos that came with a finding, those taken of it since, and those of its station. */
export function PhotosOfFinding({ view, finding }: { view: View; finding: Finding }) {
  const { id, operation, characteristic, station } = finding;
  const raised = finding.causes.flatMap((hash) => view.log.get(hash) ?? []).filter((kept) => photosIn(kept).length > 0);
  const since = photosOfFinding(view, id).map(anyKind);
  const there = characteristic && station ? photosAtStation(view, operation, characteristic, station).map(anyKind) : [];
  const shots = shotsOf(view, [...new Map([...raised, ...there, ...since].map((kept) => [kept.hash, kept])).values()]);
  return (
    <Sheet title="Photos" aside={shots.length > 0 ? shots.length : undefined}>
      <div class="pad photo-line">
        <PhotoStrip view={view} shots={shots} label="Photos of the finding" />
        {shots.length === 0 && <p class="small dim">None yet. A crack or chip wants one with a scale beside it.</p>}
        <div class="buttons">
          <AddPhoto
            id={`finding/${id}`}
            title={finding.title}
            places={[{ label: finding.title, of: { operation, finding: id } }]}
          />
        </div>
      </div>
    </Sheet>
  );
}
