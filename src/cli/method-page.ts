import { type Calculation, runCalculation, type WorkingLine } from '../../shared/calculations/calculation.ts';

/** A published value that a test holds a calculation to; see tests/external/data. */
export interface PublishedCheck {
  source: string;
  inputs?: unknown;
  /** JSON text, for the calculations that take any JSON. */
  text?: string;
}

/** All published values of one calculation, or other published tables of it. */
export type ChecksOf = (name: string) => readonly PublishedCheck[];
/** Reference libraries whose answers the tests compare with. */
export type LibrariesOf = (name: string) => readonly string[];
/** Published tables and numerical runs of our own that the tests compare with, each in a few words. */
export type OthersOf = (name: string) => readonly string[];

const groups = ['Shape and spin', 'Measuring and judging', 'Heat and glass', 'Planning and proof'] as const;

const head = `# Method

Every figure that the tablet shows comes from one of these calculations. The tablet's working, the desk command
(\`npm run --silent calc -- --list\`) and this page are made from the same list. Made by \`npm run method\`: do not edit.

A check that says *computed independently*, or that is a numerical run under tests/external, is a second computation of
our own by another path, and one that says *from memory* has not been looked up again; all others were read in the
source named.
`;

/** The whole page, from the list of calculations and the published values that their tests hold them to. */
export function methodPage(
  calculations: readonly Calculation[],
  checksOf: ChecksOf,
  librariesOf: LibrariesOf,
  othersOf: OthersOf,
): string {
  const sections = groups.map((group) => {
    const members = calculations.filter((c) => c.group === group);
    return [
      `## ${group}\n`,
      ...members.map((c) => section(c, checksOf(c.name), [...othersOf(c.name), ...librariesOf(c.name).map(onRandom)])),
    ].join('\n');
  });
  return `${[head, ...sections].join('\n').trimEnd()}\n`;
}

function section(calculation: Calculation, checks: readonly PublishedCheck[], others: readonly string[]): string {
  const { name, title, formula, validity, source, version } = calculation;
  return `### ${title}: \`${name}\`

${formula}

${symbolTable(symbolsOf(calculation, checks))}
Holds: ${validity}

Source: ${source}. Version ${version}.

Checked against:

${[
  ...checkedAgainst(checks).map(({ source, count }) => `- ${source} (${count === 1 ? '1 value' : `${count} values`})`),
  ...others.map((other) => `- ${other}`),
].join('\n')}
`;
}

const onRandom = (library: string) => `the reference library ${library}, on random input`;

function symbolTable(lines: readonly WorkingLine[]): string {
  if (lines.length === 0) return '';
  const rows = lines.map((line) => `| ${cell(line.symbol)} | ${cell(line.meaning)} | ${cell(line.unit)} |`);
  return `${['| symbol | meaning | unit |', '| --- | --- | --- |', ...rows].join('\n')}\n`;
}

const cell = (text: string): string => text.replaceAll('|', '\\|');

/** Each symbol once, as it stands in the working of the published examples. */
export function symbolsOf(calculation: Calculation, checks: readonly PublishedCheck[]): WorkingLine[] {
  const lines = checks.flatMap((check) => {
    const input = check.inputs ?? (check.text === undefined ? undefined : { entry: JSON.parse(check.text) });
    const outcome = runCalculation(calculation, input);
    if ('error' in outcome) return [];
    // What the example itself named, such as an activity, is no symbol of the method.
    const names = textsIn(input);
    return outcome.working.filter(({ symbol }) => !names.has(symbol));
  });
  const seen = new Set<string>();
  return lines.filter(({ symbol }) => {
    const kind = kindOf(symbol);
    return seen.has(kind) ? false : seen.add(kind);
  });
}

/** Every text that stands as a value anywhere in an input. */
function textsIn(value: unknown): Set<string> {
  if (typeof value === 'string') return new Set([value]);
  if (value === null || typeof value !== 'object') return new Set();
  return new Set(Object.values(value).flatMap((part) => [...textsIn(part)]));
}

/** Numbered symbols stand for a whole row of them, T1, T2 …: the first is enough; so is one T(hour). */
const kindOf = (symbol: string): string =>
  symbol.replace(/\([0-9.]+\)$/, '(#)').replace(/(?<![0-9.])([2-9]|[1-9][0-9]+)$/, '1');

function checkedAgainst(checks: readonly PublishedCheck[]): { source: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const { source } of checks) counts.set(source, (counts.get(source) ?? 0) + 1);
  return [...counts].map(([source, count]) => ({ source, count }));
}
