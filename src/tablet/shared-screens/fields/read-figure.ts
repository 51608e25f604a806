import { parseFigure } from '../../parts/parse-figure.ts';

export type ReadFigure = { readonly value: number } | { readonly error: string };

/** Nothing that a form asks for is larger; beyond it digits are lost. */
const LARGEST = 1e12;

/** Reads a typed figure; where it is none, says in words what is wrong with it. The text stays with the caller. */
export function readFigure(text: string): ReadFigure {
  const typed = text.trim();
  const value = parseFigure(typed);
  if (value === null) return { error: wrongWith(typed) };
  if (Math.abs(value) > LARGEST) return { error: 'This is too large to be a figure of a blank.' };
  return { value };
}

function wrongWith(typed: string): string {
  if (typed === '') return 'A figure is missing.';
  if (/^[+\u2212-]?[\d.,]+e[+\u2212-]?\d+$/i.test(typed)) return 'Write the figure out, without a power of ten.';
  const stranger = /[^\d.,+\u2212\s-]/u.exec(typed);
  if (stranger) return `“${stranger[0]}” is no part of a figure: digits and one decimal comma or point.`;
  if ((typed.match(/[.,]/g) ?? []).length > 1) return 'Two decimal marks: write one, and none between thousands.';
  return 'This is not one plain figure.';
}
