import { promisify } from 'node:util';
import { gunzip } from 'node:zlib';

const unzip = promisify(gunzip);

export type InflateFault = 'too-large' | 'damaged';

/**
 * Unzips, but never more than `most` bytes: a small body that would grow without end is stopped on the way, not
 * measured afterwards.
 */
export async function inflate(bytes: Uint8Array, most: number): Promise<Uint8Array | InflateFault> {
  try {
    return await unzip(bytes, { maxOutputLength: most });
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ERR_BUFFER_TOO_LARGE' ? 'too-large' : 'damaged';
  }
}
