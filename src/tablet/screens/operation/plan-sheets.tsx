import type { Operation } from '../../../../shared/plan/schema.ts';
import { Sheet } from '../../parts/sheet.tsx';

/** What the plan says besides: what usually goes wrong. */
export function PlanSheets({ operation }: { operation: Operation }) {
  const { wrong, usualDisposition } = operation;
  return (
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
  );
}
