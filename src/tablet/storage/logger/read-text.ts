import { FileFault } from '../../../../shared/logger/file-fault.ts';
import type { Encoding } from '../../../../shared/logger/mapping.ts';

const PIECE_BYTES = 1_000_000;

/**
 * The text of a file, piece by piece, without its mark (BOM).
 * @param onProgress told how many bytes are read
 * @throws {FileFault} where bytes are no text in that encoding
 */
export async function* readText(
  file: Blob,
  encoding: Encoding,
  onProgress?: (bytes: number) => void,
): AsyncGenerator<string> {
  const decoder = new TextDecoder(encoding, { fatal: true });
  for (let at = 0; at < file.size; at += PIECE_BYTES) {
    const end = Math.min(file.size, at + PIECE_BYTES);
    const bytes = await bytesOf(file.slice(at, end));
    const text = decode(() => decoder.decode(bytes, { stream: end < file.size }), encoding);
    if (text.includes('\0'))
      throw new FileFault('binary', `This is not text: there are zero bytes after the first ${at} bytes.`);
    onProgress?.(end);
    yield text;
  }
}

/** The first bytes of a file. @throws {FileFault} where the tablet cannot read it */
export const firstBytes = (file: Blob, bytes: number): Promise<Uint8Array> => bytesOf(file.slice(0, bytes));

async function bytesOf(part: Blob): Promise<Uint8Array> {
  try {
    return new Uint8Array(await part.arrayBuffer());
  } catch {
    throw new FileFault('unreadable', 'The tablet cannot read this file: it was moved, or its memory was pulled out.');
  }
}

function decode(work: () => string, encoding: Encoding): string {
  try {
    return work();
  } catch {
    throw new FileFault('not-text', `The file holds bytes that are no text in ${encoding}: it is damaged.`);
  }
}
