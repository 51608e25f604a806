import type { Operation } from '../../../../shared/plan/schema.ts';
import { Sheet } from '../../parts/sheet.tsx';

/** What the plan says besides: pictures that are wanted, and what usually goes wrong. */
export function PlanSheets({ operation }: { operation: Operation }) {
  const { photos, wrong, usualDisposition } = operation;
  return (
    <>
      {photos.length > 0 && (
        <Sheet title="Photos wanted">
          <ul class="rows">
            {photos.map((photo) => (
              <li key={photo}>{photo}</li>
            ))}
          </ul>
        </Sheet>
      )}
      <Sheet label="Usually wrong">
        <details class="fold">
          <summary>
            <b>Usually wrong, and then</b>
          </summary>
          <dl class="operation-cautions">
            <div>
              <dt>Usually wrong</dt>
              <dd>{wrong}</dd>
            </div>
            <div>
              <dt>Then</dt>
              <dd>{usualDisposition}</dd>
            </div>
          </dl>
        </details>
      </Sheet>
    </>
  );
}
