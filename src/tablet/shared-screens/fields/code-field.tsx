import { TextField } from './field.tsx';

/** Letters and digits of a one-time code. */
const LENGTH = 12;

/** Reads a code as it was typed: dashes, spaces and small letters make no difference. */
export function readCode(text: string): { code: string } | { problem: string } {
  const code = text.toUpperCase().replaceAll(/[\s-]/g, '');
  if (code === '') return { problem: 'The code is missing.' };
  if (/[^0-9A-Z]/.test(code)) return { problem: 'A code has only letters and digits.' };
  if (code.length !== LENGTH) return { problem: `A code has ${LENGTH} letters and digits; there are ${code.length}.` };
  return { code };
}

type Props = { text: string; onText: (text: string) => void; error?: string | undefined };

/** A field for the one-time code that the server's keeper reads out or shows. */
export function CodeField({ text, onText, error }: Props) {
  return (
    <TextField
      label="One-time code"
      text={text}
      onText={onText}
      error={error}
      note="12 letters and digits, from whoever looks after the server. Dashes and small letters make no difference; a letter O is a zero."
    />
  );
}
