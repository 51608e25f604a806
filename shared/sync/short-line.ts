/** What stands before an entry in its chain. */
export interface Before {
  readonly seq: number;
  readonly hash: string;
}

/**
 * An entry travels without its `prev` and `seq` when the entry before it in its chain stands before it in the batch: the
 * receiver works them out, and the hashes that the batch names prove it. Keys of canonical JSON are sorted, and after
 * `recordedAt` come only keys whose values hold neither texts nor names of anybody's choosing: so the last of these
 * marks are the envelope's own.
 */
const AFTER_PREV = ',"recordedAt":"';
const PREV = /,"prev":(?:null|"[0-9a-f]{64}")$/;
const LONGEST_PREV = 75;
const DEVICE = ',"device":"';
const AFTER_SEQ = ',"signature":{';
const SEQ = ',"seq":';

/** The line without what follows from the entry before it. */
export function shortLine(text: string, before: Before): string {
  const prev = `,"prev":"${before.hash}"`;
  const seq = `${SEQ}${before.seq + 1}`;
  const prevAt = text.lastIndexOf(prev + AFTER_PREV);
  const seqAt = text.lastIndexOf(seq);
  if (prevAt < 0 || seqAt < prevAt) return text;
  return text.slice(0, prevAt) + text.slice(prevAt + prev.length, seqAt) + text.slice(seqAt + seq.length);
}

/**
 * The line as its tablet wrote it.
 * @param lastOf the last entry of a device that stands before this one in the batch
 * @returns null when something was left out and no entry of its device stands before it.
 */
export function fullLine(line: string, lastOf: (device: string) => Before | undefined): string | null {
  const prevAt = line.lastIndexOf(AFTER_PREV);
  // What is no entry at all is left as it is: the check of the envelope says so better.
  if (prevAt < 0 || PREV.test(line.slice(Math.max(0, prevAt - LONGEST_PREV), prevAt))) return line;
  const device = line.lastIndexOf(DEVICE, prevAt);
  if (device < 0) return line;
  const before = lastOf(line.slice(device + DEVICE.length, device + DEVICE.length + 32));
  if (before === undefined) return null;
  const signature = line.lastIndexOf(AFTER_SEQ);
  const seqAt = signature > prevAt ? signature : line.length - 1;
  return `${line.slice(0, prevAt)},"prev":"${before.hash}"${line.slice(prevAt, seqAt)}${SEQ}${before.seq + 1}${line.slice(seqAt)}`;
}
