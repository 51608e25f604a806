/** Why a logger file is not taken at all. */
export type FileFaultCode =
  | 'too-large'
  | 'empty'
  | 'binary'
  | 'not-text'
  | 'quote-open'
  | 'one-column'
  | 'no-rows'
  | 'no-time'
  | 'no-channels'
  | 'twice'
  | 'columns-missing'
  | 'nothing-taken'
  | 'too-many-rows'
  | 'unreadable';

/** A fault of the whole file, in words for the person who chose it. Nothing of the file is taken in. */
export class FileFault extends Error {
  constructor(
    readonly code: FileFaultCode,
    message: string,
  ) {
    super(message);
    this.name = 'FileFault';
  }
}

/** A month of 60 channels a minute is about 20 MB. */
export const MOST_BYTES = 100_000_000;
/** Two years a minute. */
export const MOST_ROWS = 1_100_000;

/** Asked before a byte is read. @throws {FileFault} for a file that is empty or too large */
export function checkSize(name: string, bytes: number): void {
  if (bytes === 0) throw new FileFault('empty', `${name} is empty.`);
  if (bytes > MOST_BYTES)
    throw new FileFault(
      'too-large',
      `${name} has ${(bytes / 1e6).toFixed(0)} MB; at most ${MOST_BYTES / 1e6} MB are taken in one file. Let the logger write a file a month, or cut it.`,
    );
}
