import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { WorkingLine } from '../../../../shared/calculations/calculation.ts';
import type { WorkedBy } from '../../../../shared/furnace/heat-figures.ts';
import { Overlay } from '../../parts/overlay.tsx';
import type { Verdict } from '../../parts/verdict.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { WorkingTable } from '../../parts/working-table.tsx';
import { CalculationWorking } from '../../shared-screens/calculation-working.tsx';

/** Where a figure comes from: words, lines, and the named calculations behind it. */
export interface Behind {
  readonly words?: readonly string[];
  readonly lines?: readonly WorkingLine[];
  readonly worked?: readonly WorkedBy[];
}

/** A figure that was worked out, as one row of a list. */
export interface WorkedFigure {
  readonly name: string;
  readonly figure: ComponentChildren;
  /** Small, under the name. */
  readonly beside?: ComponentChildren;
  readonly verdict?: Verdict | null;
  readonly behind: Behind;
}

/** Figures in a list; a tap shows how one was worked out. */
export function WorkedFigures({ figures }: { figures: readonly WorkedFigure[] }) {
  const [open, setOpen] = useState<string | null>(null);
  const shown = figures.find((f) => f.name === open);
  return (
    <>
      <ul class="rows worked-figures">
        {figures.map(({ name, figure, beside, verdict }) => (
          <li key={name}>
            <button type="button" class="row" onClick={() => setOpen(name)}>
              <span class="grow">
                <span>{name}</span>
                {beside && <span class="second small dim">{beside}</span>}
              </span>
              <span class="worked-value">
                {figure}
                {verdict && <VerdictMark verdict={verdict} />}
              </span>
            </button>
          </li>
        ))}
      </ul>
      {shown && (
        <BehindOverlay name={shown.name} figure={shown.figure} behind={shown.behind} onClose={() => setOpen(null)} />
      )}
    </>
  );
}

/** More digits than anyone can check by hand, and no noise of binary fractions. */
const DIGITS = 9;

/** How one figure was worked out. */
export function BehindOverlay(props: {
  readonly name: string;
  readonly figure?: ComponentChildren;
  readonly behind: Behind;
  readonly onClose: () => void;
}) {
  const { name, figure, behind, onClose } = props;
  const { words = [], lines = [], worked = [] } = behind;
  return (
    <Overlay title={name} onClose={onClose}>
      {figure && <p class="worked-lead">{figure}</p>}
      {words.map((text) => (
        <p key={text}>{text}</p>
      ))}
      {lines.length > 0 && (
        <WorkingTable
          caption={`Working of ${name}`}
          lines={lines.map((line) => ({
            ...line,
            value: typeof line.value === 'number' ? Number(line.value.toPrecision(DIGITS)) : (line.value ?? '–'),
          }))}
        />
      )}
      {worked.map((by) => (
        <section key={by.calculation} class="worked-by">
          <h3>{by.calculation}</h3>
          <CalculationWorking {...by} name={name} />
        </section>
      ))}
    </Overlay>
  );
}
