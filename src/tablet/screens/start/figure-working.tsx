import type { DerivedFigure } from '../../../../shared/plan/schema.ts';
import { settings } from '../../app/settings.ts';
import { Figure } from '../../parts/figure.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { CalculationWorking } from '../../shared-screens/calculation-working.tsx';

/** How a derived figure came about: the calculation run again, or its rule in words. */
export function FigureWorking({ figure, onClose }: { figure: DerivedFigure; onClose: () => void }) {
  const { name, value, unit, decimals, words, derivation } = figure;
  return (
    <Overlay title={name} onClose={onClose}>
      <p class="reading">
        <Figure value={value} unit={unit} decimals={decimals} decimalMark={settings.value.decimalMark} />
      </p>
      {words && <p>{words}</p>}
      {derivation && <CalculationWorking {...derivation} name={name} />}
    </Overlay>
  );
}
