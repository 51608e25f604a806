import type { EnvelopeFault } from '../../../shared/logbook/entry.ts';
import type { BatchFault } from '../../../shared/sync/file-batch.ts';
import type { RequestFault } from '../../../shared/sync/join-request.ts';

const REFUSED: { readonly [F in EnvelopeFault]: string } = {
  'not canonical': 'its bytes were changed, or it is no entry',
  'too large': 'it is larger than an entry may be',
  'wrong casting': 'it belongs to another casting',
  'wrong genesis': 'it is not the first entry that the fingerprint is taken from',
};

/** What is wrong with a file, or with an entry in it, for people. */
export function fileFaultWords(fault: BatchFault, tabletOf: (device: string) => string): string {
  switch (fault.fault) {
    case 'refused':
      return `Entry ${fault.line} of a batch stays out: ${REFUSED[fault.why]}.`;
    case 'not-tied':
      return `Entry ${fault.seq} of ${tabletOf(fault.device)} stays out: it, or one after it, was changed or is missing since the file was signed.`;
    default:
      return wholeFile[fault.fault];
  }
}

/** What is wrong with a file as a whole. */
export const wholeFile: {
  readonly [F in Exclude<BatchFault['fault'], 'refused' | 'not-tied'> | RequestFault]: string;
} = {
  'not-a-batch': 'This is no file of Lehrbook, or it was changed.',
  'cut-short': 'The file ends too early: it was not copied to its end. What comes before the cut can be taken in.',
  'header-signature':
    'The signature of the tablet that saved it does not fit: a batch was changed, or forged. It stays out.',
  'other-casting': 'It belongs to another casting.',
  'request-signature': 'The request is not signed by the keys that it names: it was changed, or forged.',
};

/** Faults of a kind told once, with how many there are, the first of each in words. */
export function faultLines(faults: readonly BatchFault[], tabletOf: (device: string) => string): string[] {
  const lines = [...new Set(faults.map((f) => fileFaultWords(f, tabletOf)))];
  return lines.length > 6 ? [...lines.slice(0, 5), `and ${lines.length - 5} more`] : lines;
}
