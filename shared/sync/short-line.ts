/**
 * An entry may travel without its `prev` when the entry before it in its chain stands before it in the batch: the
 * receiver works it out, and the hashes that the batch names prove it. Keys of canonical JSON are sorted, and after
 * `recordedAt` come only keys whose values hold neither texts nor names of anybody's choosing: so the last of these
 * marks is the envelope's own.
 */
const AFTER_PREV = ',"recordedAt":"';
const PREV = /,"prev":(?:null|"[0-9a-f]{64}")$/;
const LONGEST_PREV = 75;
const DEVICE = ',"device":"';

/** The line without the `prev` that it names. */
export function withoutPrev(text: string, prev: string): string {
  const member = `,"prev":"${prev}"`;
  const at = text.lastIndexOf(member + AFTER_PREV);
  return at < 0 ? text : text.slice(0, at) + text.slice(at + member.length);
}

/**
 * The line as its tablet wrote it.
 * @param lastOf the hash of the last entry of a device that stands before this one in the batch
 * @returns null when it leaves its `prev` out and no entry of its device stands before it.
 */
export function withPrev(line: string, lastOf: (device: string) => string | undefined): string | null {
  const at = line.lastIndexOf(AFTER_PREV);
  // What is no entry at all is left as it is: the check of the envelope says so better.
  if (at < 0 || PREV.test(line.slice(Math.max(0, at - LONGEST_PREV), at))) return line;
  const device = line.lastIndexOf(DEVICE, at);
  if (device < 0) return line;
  const last = lastOf(line.slice(device + DEVICE.length, device + DEVICE.length + 32));
  return last === undefined ? null : `${line.slice(0, at)},"prev":"${last}"${line.slice(at)}`;
}
