import { runCalculation, type WorkingLine } from '../../../shared/calculations/calculation.ts';
import { conformity } from '../../../shared/calculations/conformity.ts';
import { lengthAt20 } from '../../../shared/calculations/length-at-20.ts';
import type { LengthInput } from '../../../shared/logbook/state/judge-reading.ts';
import type { LimitsAt } from '../../../shared/plan/lookup.ts';
import type { WorkingLine as Line } from '../parts/working-table.tsx';

/** What the working starts from; figures in the characteristic's unit. */
export interface Worked {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly limits: LimitsAt;
  readonly length: LengthInput | null;
  readonly unit: string;
  /** Where the numbers that were put in come from, by symbol. */
  readonly sources: Readonly<Record<string, string>>;
}

/** The lines from what was read to the verdict, as the calculations give them. */
export function workingOf(worked: Worked): Line[] {
  const { length, unit, sources } = worked;
  const lines = [...(length ? [...lengthLines(length), ...uncertaintyLines(length)] : []), ...conformityLines(worked)];
  return lines.map((line) => shown({ ...line, unit: line.unit || (IN_UNIT.has(line.symbol) ? unit : '') }, sources));
}

const IN_UNIT: ReadonlySet<string> = new Set(['y', 'u', 'g u', 'lower', 'upper', 'lower + g u', 'upper − g u']);

function lengthLines(length: LengthInput): WorkingLine[] {
  const outcome = runCalculation(lengthAt20, length);
  return 'working' in outcome ? outcome.working : [];
}

/** The uncertainties that `u` of the length is made of: its line names them, and a check by hand needs them. */
function uncertaintyLines(length: LengthInput): WorkingLine[] {
  const given = (symbol: string, meaning: string, value: number | undefined, unit: string): WorkingLine[] =>
    value === undefined ? [] : [{ symbol, meaning, value, unit, source: 'given' }];
  return [
    ...given('u(L)', 'of the reading', length.u_length_mm, 'mm'),
    ...given('u(t_p)', 'of the part temperature', length.u_part_temperature_K, 'K'),
    ...given('u(t_s)', 'of the scale temperature', length.u_scale_temperature_K, 'K'),
    ...given('u(α_p)', 'of the part’s expansion', length.u_part_expansion_per_K, '1/K'),
    ...given('u(α_s)', 'of the scale’s expansion', length.u_scale_expansion_per_K, '1/K'),
  ];
}

function conformityLines({ value, standardUncertainty, limits, length }: Worked): WorkingLine[] {
  const outcome = runCalculation(conformity, {
    value,
    standard_uncertainty: standardUncertainty,
    lower_limit: limits.lower,
    upper_limit: limits.upper,
  });
  if (!('working' in outcome)) return [];
  // Value and uncertainty stand above already where they were worked out.
  return length ? outcome.working.filter(({ symbol }) => symbol !== 'y' && symbol !== 'u') : outcome.working;
}

/** Symbols as the narrow column takes them. */
const SYMBOLS: Readonly<Record<string, string>> = { L20: 'L_20', 'L20 − L': 'ΔL' };
const VERDICT_WORDS: Readonly<Record<string, string>> = { 'not-proven': 'not proven' };
const DIGITS = 9;

function shown({ symbol, meaning, value, unit, formula, source }: WorkingLine, sources: Worked['sources']): Line {
  const expansion = unit === '1/K' && typeof value === 'number';
  const figure = expansion ? Number((value * 1e6).toPrecision(DIGITS)) : value;
  return {
    symbol: SYMBOLS[symbol] ?? symbol,
    meaning,
    value: typeof figure === 'number' ? plain(figure) : (VERDICT_WORDS[figure ?? ''] ?? figure ?? '–'),
    unit: expansion ? '×10^-6/K' : unit,
    ...(formula === undefined ? {} : { formula }),
    source: sources[symbol] ?? source,
  };
}

/** Digits written out, never with an exponent: what a person can key into a pocket calculator. */
function plain(value: number): string {
  const text = String(Number(value.toPrecision(DIGITS)));
  return text.includes('e') ? value.toFixed(12).replace(/0+$/, '') : text;
}

/** The command that works the same out at a desk. */
export const deskCommand = (length: LengthInput): string =>
  `echo '${JSON.stringify(length)}' | npm run --silent calc -- ${lengthAt20.name}`;

/** The command for a verdict without a length to bring to 20 °C. */
export const conformityCommand = ({ value, standardUncertainty, limits }: Worked): string =>
  `echo '${JSON.stringify({
    value,
    standard_uncertainty: standardUncertainty,
    lower_limit: limits.lower,
    upper_limit: limits.upper,
  })}' | npm run --silent calc -- ${conformity.name}`;
