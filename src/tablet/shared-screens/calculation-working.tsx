import { useEffect, useState } from 'preact/hooks';
import type { Outcome } from '../../../shared/calculations/calculation.ts';
import { WorkingTable } from '../parts/working-table.tsx';
import './calculation-working.css';

export interface CalculationWorkingProps {
  readonly calculation: string;
  readonly input: Readonly<Record<string, unknown>>;
  /** What is worked out. */
  readonly name: string;
  /** Where the figure shown is the result times or plus something. */
  readonly factor?: number | undefined;
  readonly addend?: number | undefined;
}

type Shown = { outcome: Outcome<unknown>; source: string; validity: string };

/** A named calculation run again: its lines, its source, and the desk command that gives the same. */
export function CalculationWorking({ calculation, input, name, factor, addend }: CalculationWorkingProps) {
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
    import('../../../shared/calculations/registry.ts'),
    import('../../../shared/calculations/calculation.ts'),
  ]);
  const calculation = calculationNamed(name)!;
  return { outcome: runCalculation(calculation, input), source: calculation.source, validity: calculation.validity };
}
