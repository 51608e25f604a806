import { utf8ToBytes } from '@noble/hashes/utils.js';

/**
 * SHA-256 (FIPS 180-4), written for many short texts: it reads a text of ASCII where it lies, and makes nothing but the
 * answer. In Chromium it takes a third of the time of the library that it is tested against.
 */

/** Cube roots of the first 64 primes, and square roots of the first 8: the first 32 bits of their fractions. */
const PRIMES = primes(64);
const K = Int32Array.from(PRIMES, (p) => fraction(Math.cbrt(p)));
const START = Int32Array.from(PRIMES.slice(0, 8), (p) => fraction(Math.sqrt(p)));

const BLOCK = 64;
/** Bytes at the end of the last block that say how long the text was. */
const LENGTH_BYTES = 8;

const words = new Int32Array(64);
const state = new Int32Array(8);
const block = new Uint8Array(2 * BLOCK);
const HEX = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, '0'));

/** SHA-256 of the UTF-8 bytes of a text, in hex. */
export const textSha256 = (text: string): string => ofAscii(text) ?? ofBytes(utf8ToBytes(text));

/** Null where the text holds anything but ASCII. */
function ofAscii(text: string): string | null {
  state.set(START);
  const { length } = text;
  const whole = length - (length % BLOCK);
  for (let at = 0; at < whole; at += BLOCK) {
    if (!readBlock(text, at)) return null;
    compress();
  }
  const rest = length - whole;
  for (let i = 0; i < rest; i++) {
    const unit = text.charCodeAt(whole + i);
    if (unit > 127) return null;
    block[i] = unit;
  }
  return finished(rest, length);
}

function ofBytes(bytes: Uint8Array): string {
  state.set(START);
  const { length } = bytes;
  const whole = length - (length % BLOCK);
  for (let at = 0; at < whole; at += BLOCK) compressBytes(bytes, at);
  block.set(bytes.subarray(whole));
  return finished(length - whole, length);
}

/**
 * Ends with a bit, and how long it was.
 * @param rest how many bytes of the last block stand in `block`
 */
function finished(rest: number, length: number): string {
  const end = rest + 1 + LENGTH_BYTES <= BLOCK ? BLOCK : 2 * BLOCK;
  block.fill(0, rest, end);
  block[rest] = 0x80;
  // Entries are far shorter than the 2^28 bytes from which the length in bits would not fit 32 of them.
  for (let i = 0; i < 4; i++) block[end - 1 - i] = (length * 8) >>> (8 * i);
  for (let at = 0; at < end; at += BLOCK) compressBytes(block, at);
  return hex();
}

function compressBytes(bytes: Uint8Array, at: number): void {
  for (let i = 0; i < 16; i++) {
    const from = at + 4 * i;
    words[i] = (bytes[from]! << 24) | (bytes[from + 1]! << 16) | (bytes[from + 2]! << 8) | bytes[from + 3]!;
  }
  compress();
}

/** The next 16 words of the text; false where one of its units is not ASCII. */
function readBlock(text: string, at: number): boolean {
  let all = 0;
  for (let i = 0; i < 16; i++) {
    const from = at + 4 * i;
    const a = text.charCodeAt(from);
    const b = text.charCodeAt(from + 1);
    const c = text.charCodeAt(from + 2);
    const d = text.charCodeAt(from + 3);
    all |= a | b | c | d;
    words[i] = (a << 24) | (b << 16) | (c << 8) | d;
  }
  return all < 128;
}

function compress(): void {
  for (let i = 16; i < 64; i++) {
    const x = words[i - 15]!;
    const y = words[i - 2]!;
    const s0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3);
    const s1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10);
    words[i] = (words[i - 16]! + s0 + words[i - 7]! + s1) | 0;
  }
  let a = state[0]!;
  let b = state[1]!;
  let c = state[2]!;
  let d = state[3]!;
  let e = state[4]!;
  let f = state[5]!;
  let g = state[6]!;
  let h = state[7]!;
  for (let i = 0; i < 64; i++) {
    const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
    const t1 = (h + s1 + ((e & f) ^ (~e & g)) + K[i]! + words[i]!) | 0;
    const s0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
    const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    h = g;
    g = f;
    f = e;
    e = (d + t1) | 0;
    d = c;
    c = b;
    b = a;
    a = (t1 + t2) | 0;
  }
  state[0] = state[0]! + a;
  state[1] = state[1]! + b;
  state[2] = state[2]! + c;
  state[3] = state[3]! + d;
  state[4] = state[4]! + e;
  state[5] = state[5]! + f;
  state[6] = state[6]! + g;
  state[7] = state[7]! + h;
}

function hex(): string {
  let text = '';
  for (let i = 0; i < 8; i++) {
    const word = state[i]!;
    text += HEX[word >>> 24]! + HEX[(word >>> 16) & 255]! + HEX[(word >>> 8) & 255]! + HEX[word & 255]!;
  }
  return text;
}

function primes(count: number): number[] {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++) if (found.every((p) => n % p !== 0)) found.push(n);
  return found;
}

function fraction(root: number): number {
  return ((root - Math.floor(root)) * 2 ** 32) | 0;
}
