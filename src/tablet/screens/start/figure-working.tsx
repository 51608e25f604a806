import { useEffect, useState } from 'preact/hooks';
import type { Outcome } from '../../../../shared/calculations/calculation.ts';
import type { DerivedFigure } from '../../../../shared/plan/schema.ts';
import { settings } from '../../app/settings.ts';
import { Figure } from '../../parts/figure.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { WorkingTable } from '../../parts/working-table.tsx';

type Shown = { outcome: Outcome<unknown>; source: string; validity: string };

/** How a derived figure came about: the calculation run again, or its rule in words. */
export function FigureWorking({ figure, onClose }: { figure: DerivedFigure; onClose: () => void }) {
  const { name, value, unit, decimals, words, derivation } = figure;
  return (
    <Overlay title={name} onClose={onClose}>
      <p class="reading">
        <Figure value={value} unit={unit} decimals={decimals} decimalMark={settings.value.decimalMark} />
      </p>
      {words && <p>{words}</p>}
      {derivation && <Derived derivation={derivation} name={name} />}
    </Overlay>
  );
}

function Derived({ derivation, name }: { derivation: NonNullable<DerivedFigure['derivation']>; name: string }) {
  const { calculation, input, factor, addend } = derivation;
  const [shown, setShown] = useState<Shown | null>(null);
  useEffect(() => {
    let here = true;
    void runNamed(calculation, input).then((found) => here && setShown(found));
    return () => {
      here = false;
    };
  }, [calculation, input]);
  if (!shown) return <p class="dim">Working it out</p>;
  if ('error' in shown.outcome) return <p class="form-error">{shown.outcome.error.message}</p>;
  const lines = shown.outcome.working.map((line) => ({ ...line, value: readable(line.value) }));
  return (
    <>
      <WorkingTable caption={`Working of ${name}`} lines={lines} foot={`${shown.source}. ${shown.validity}`} />
      {(factor !== undefined || addend !== undefined) && (
        <p class="note">{`Shown here: the result${factor === undefined ? '' : ` · ${Number(factor.toPrecision(6))}`}${addend === undefined ? '' : ` + ${addend}`}.`}</p>
      )}
      <div class="desk">
        <p class="note">To work it out again at a desk:</p>
        <pre>{`npm run --silent calc -- ${calculation}`}</pre>
        <p class="note">with this on standard input:</p>
        <pre>{JSON.stringify(input, null, 1)}</pre>
      </div>
    </>
  );
}

/** More digits than anyone can check by hand, and no noise of binary fractions. */
const DIGITS = 10;

const readable = (value: number | string | null): number | string =>
  typeof value === 'number' ? Number(value.toPrecision(DIGITS)) : (value ?? '–');

/** The calculations come with the first tap on a figure. */
async function runNamed(name: string, input: unknown): Promise<Shown> {
  const [{ calculationNamed }, { runCalculation }] = await Promise.all([
    import('../../../../shared/calculations/registry.ts'),
    import('../../../../shared/calculations/calculation.ts'),
  ]);
  const calculation = calculationNamed(name)!;
  return { outcome: runCalculation(calculation, input), source: calculation.source, validity: calculation.validity };
}
