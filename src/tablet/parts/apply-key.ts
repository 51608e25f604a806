/** A key of the keypad. `mark` is the decimal mark, `sign` turns the sign, `rub` takes the last character away. */
export type Key = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | 'mark' | 'sign' | 'rub';

/** The typed text after one more key; what the key cannot add to is left as it is. */
export function applyKey(text: string, key: Key, decimalMark: '.' | ',' = '.'): string {
  if (key === 'rub') return text.slice(0, -1);
  if (key === 'sign') return /^[-\u2212]/.test(text) ? text.slice(1) : `\u2212${text.replace(/^\+/, '')}`;
  if (key !== 'mark') return text + key;
  if (/[.,]/.test(text)) return text;
  return /\d/.test(text) ? text + decimalMark : `${text}0${decimalMark}`;
}
