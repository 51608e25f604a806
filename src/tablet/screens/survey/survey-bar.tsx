import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { operationState, type Wait } from '../../../../shared/logbook/state/sequence.ts';
import { isReleased } from '../../../../shared/logbook/state/signatures.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { Overlay } from '../../parts/overlay.tsx';

/** The way back to the operation, its cautions in one line, and what it waits for. */
export function SurveyBar(props: { view: View; operation: Operation; children?: ComponentChildren }) {
  const { view, operation, children } = props;
  const [open, setOpen] = useState(false);
  const cautions = operation.cautions.flatMap((id) => view.plan.cautions.find((c) => c.id === id) ?? []);
  const waits = operationState(view, operation, isReleased(view)).waitsFor;
  return (
    <div class="survey-bar">
      <a class="button" href={`/sequence/${operation.id}`}>
        Operation {operation.id}
      </a>
      {cautions.length > 0 && (
        <button type="button" class="button cautions-line" onClick={() => setOpen(true)}>
          <span class="cautions-names">
            <b>Cautions:</b> {cautions.map((c) => c.name.toLowerCase()).join(', ')}
          </span>
        </button>
      )}
      {children}
      {waits.length > 0 && (
        <p class="small waits">Out of sequence: {waits.map(waitWords).join(', ')}. You can record; it is flagged.</p>
      )}
      {open && (
        <Overlay title={`Cautions, operation ${operation.id}`} onClose={() => setOpen(false)}>
          <ul class="cautions">
            {cautions.map((c) => (
              <li key={c.id}>
                <h3>{c.name}</h3>
                <p>{c.text}</p>
              </li>
            ))}
          </ul>
          <p class="cautions-closing">{view.plan.cautionClosing}</p>
        </Overlay>
      )}
    </div>
  );
}

function waitWords({ kind, id }: Wait): string {
  if (kind === 'hold') return `hold point ${id} is not released`;
  return kind === 'start' ? `${id} has not begun` : `${id} is not finished`;
}
