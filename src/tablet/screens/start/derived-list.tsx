import { useState } from 'preact/hooks';
import type { DerivedFigure } from '../../../../shared/plan/schema.ts';
import { settings } from '../../app/settings.ts';
import { Figure } from '../../parts/figure.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { FigureWorking } from './figure-working.tsx';

/** What the hall asks first; the spin rate brings its two limits with it. */
const FIRST = ['tub-inner-diameter', 'spin-rate', 'glass-mass', 'core-count', 'cut-core-count'] as const;
const SPIN_LIMITS = ['spin-rate-low', 'spin-rate-high'] as const;

/** The figures that follow from the design: the first ones at once, all of them on a tap, each with its working. */
export function DerivedList({ figures }: { figures: readonly DerivedFigure[] }) {
  const [all, setAll] = useState(false);
  const [open, setOpen] = useState<string | null>(null);
  const byId = (id: string) => figures.find((figure) => figure.id === id);
  const opened = open === null ? undefined : byId(open);
  const [low, high] = SPIN_LIMITS.map(byId);
  const { decimalMark } = settings.value;
  return (
    <>
      <div class="derived-first">
        {FIRST.map(byId).map(
          (figure) =>
            figure && (
              <button type="button" key={figure.id} class="derived" onClick={() => setOpen(figure.id)}>
                <span class="small dim">{figure.name}</span>
                <Figure {...figure} decimalMark={decimalMark} class="derived-value" />
                {figure.id === 'spin-rate' && low && high && (
                  <span class="note">
                    limits <Figure value={low.value} decimals={low.decimals} decimalMark={decimalMark} /> to{' '}
                    <Figure value={high.value} decimals={high.decimals} decimalMark={decimalMark} />
                  </span>
                )}
              </button>
            ),
        )}
        <button type="button" class="derived derived-all" onClick={() => setAll(true)}>
          <b>All {figures.length} figures</b>
          <span class="note">a tap on a figure shows its working</span>
        </button>
      </div>
      {all && (
        <Overlay title="What follows from the design" onClose={() => setAll(false)}>
          <ul class="rows">
            {figures.map((figure) => (
              <li key={figure.id}>
                <button type="button" class="row" onClick={() => setOpen(figure.id)}>
                  <span class="grow">{figure.name}</span>
                  <Figure {...figure} decimalMark={decimalMark} />
                </button>
              </li>
            ))}
          </ul>
        </Overlay>
      )}
      {opened && <FigureWorking figure={opened} onClose={() => setOpen(null)} />}
    </>
  );
}

/** On the phone the figures stand far from the field that is typed: the first of them in one line over the button. */
export function InShort({ figures }: { figures: readonly DerivedFigure[] }) {
  const { decimalMark } = settings.value;
  return (
    <p class="in-short note" aria-hidden="true">
      {FIRST.slice(0, 4).map((id) => {
        const figure = figures.find((f) => f.id === id);
        return (
          figure && (
            <span key={id}>
              <Figure {...figure} unit={figure.unit || 'cores'} decimalMark={decimalMark} />
            </span>
          )
        );
      })}
    </p>
  );
}
