import { groupThousands } from './format-figure.ts';

const SPACES = /[\s\u00a0\u2009\u202f]/g;

/** The typed text without the spaces that only part the thousands. */
export const ungroup = (shown: string): string => shown.replace(SPACES, '');

/** The typed text with thin spaces between thousands, if it is a figure so far; anything else stays as typed. */
export function groupTyped(typed: string): string {
  const parts = /^([+\u2212-]?)(\d+)([.,]\d*)?$/.exec(typed);
  if (!parts) return typed;
  const [, sign = '', whole = '', rest = ''] = parts;
  return `${sign === '-' ? '\u2212' : sign}${groupThousands(whole)}${rest}`;
}

/** Where the caret stands in the grouped text, so that as many typed characters stand before it as did. */
export function caretIn(grouped: string, typedBefore: number): number {
  let at = 0;
  for (let seen = 0; seen < typedBefore && at < grouped.length; at += 1) {
    if (grouped[at] !== '\u202f') seen += 1;
  }
  return at;
}
