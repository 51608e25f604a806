import type { ReadEntry, StoredEntry } from '../../shared/sync/port.ts';

/** Entries of the simulation: laid out as real ones are, with a hash that is quick and good enough against accidents. */
export const CASTING = 'ca5710'.padEnd(32, '0');

export const deviceNamed = (n: number): string => `de71ce${n.toString(16)}`.padEnd(32, '0');

/** 64 hex digits of a text: two 32-bit lanes of multiply and rotate, stretched. Guards against accidents alone. */
export function cheapHash(text: string): string {
  let a = 0x9e3779b1;
  let b = 0x85ebca77;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    a = Math.imul(a ^ c, 0x01000193);
    b = Math.imul((b << 5) ^ (b >>> 27) ^ c, 0x27d4eb2f);
  }
  const words: string[] = [];
  for (let i = 0; i < 8; i++) {
    a = Math.imul(a ^ (a >>> 15) ^ b, 0x2c1b3c6d);
    b = Math.imul(b ^ (b >>> 13) ^ a, 0x297a2d39);
    words.push((a >>> 0).toString(16).padStart(8, '0'));
  }
  return words.join('');
}

/** The n-th entry of the world, written by a device after the one that it names as `prev`. */
export function cheapEntry(n: number, device: string, seq: number, prev: string | null, kind: string): StoredEntry {
  const at = '2026-03-01T08:00:00Z';
  const text = `{"body":{"n":${n}},"by":"${'b'.repeat(32)}","casting":"${CASTING}","clock":[1,0],"device":"${device}","format":1,"kind":"${kind}","observedAt":"${at}","prev":${prev === null ? 'null' : `"${prev}"`},"recordedAt":"${at}","seen":{},"seq":${seq}}`;
  return { device, seq, prev, hash: cheapHash(text), text };
}

/** The quick counterpart of `readEntry`. */
export const cheapRead: ReadEntry = (text, casting) => {
  try {
    const entry = JSON.parse(text);
    if (entry.casting !== casting) return { fault: 'wrong casting' };
    if (typeof entry.device !== 'string' || !Number.isInteger(entry.seq)) return { fault: 'not canonical' };
    return { entry, hash: cheapHash(text) };
  } catch {
    return { fault: 'not canonical' };
  }
};
