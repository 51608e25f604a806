import { FileFault } from './file-fault.ts';
import type { Encoding } from './mapping.ts';

/**
 * How the bytes at the beginning of a file are text: by their mark (BOM), or by what they hold.
 * @throws {FileFault} for bytes that are no text
 */
export function encodingOf(bytes: Uint8Array): Encoding {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (startsWith(bytes, [0x50, 0x4b, 3, 4]))
    throw new FileFault('binary', 'This is a packed file or a workbook, not text. Save it as CSV, or unpack it.');
  if (startsWith(bytes, [0x1f, 0x8b])) throw new FileFault('binary', 'This is a packed file. Unpack it first.');
  const controls = bytes.reduce((sum, byte) => sum + Number(byte < 9 || (byte > 13 && byte < 32) || byte === 127), 0);
  if (controls > 0)
    throw new FileFault(
      'binary',
      `This is not text: ${controls} of its first ${bytes.length} bytes are no characters.`,
    );
  return isUtf8(bytes) ? 'utf-8' : 'windows-1252';
}

const startsWith = (bytes: Uint8Array, wanted: readonly number[]): boolean => wanted.every((b, i) => bytes[i] === b);

/** Whether bytes are UTF-8; a character that the end cuts short is none against it. */
function isUtf8(bytes: Uint8Array): boolean {
  for (let i = 0; i < bytes.length; ) {
    const byte = bytes[i]!;
    const more = byte < 0x80 ? 0 : byte >= 0xc2 && byte < 0xe0 ? 1 : byte >= 0xe0 && byte < 0xf0 ? 2 : 3;
    if (more === 3 && (byte < 0xf0 || byte > 0xf4)) return false;
    for (let k = 1; k <= more; k++) {
      const next = bytes[i + k];
      if (next === undefined) return true;
      if (next < 0x80 || next > 0xbf) return false;
    }
    i += more + 1;
  }
  return true;
}
