import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';

/**
 * The RFC 8785 canonical form of a JSON value.
 * @throws {Error} for what JSON cannot hold: NaN, infinities, lone surrogates, functions, cycles.
 */
export function canonicalJson(value: unknown): string {
  const text = canonicalize(value);
  if (text === undefined) throw new Error('This value has no JSON form');
  return text;
}

/**
 * Whether a text is the RFC 8785 form of the value that was parsed from it.
 * @throws {Error} for what JSON cannot hold, e.g. lone surrogates
 */
export const isCanonical = (value: unknown, text: string): boolean => canonicalOfParsed(value) === text;

/**
 * The RFC 8785 form of a value that was parsed from JSON. The browser's own JSON.stringify writes numbers and texts as
 * RFC 8785 has them and leaves keys as they stood. Where they stand otherwise (keys that look like array places do), and
 * where there are lone surrogates, which it would write, the library decides.
 * @throws {Error} for what JSON cannot hold, e.g. lone surrogates
 */
export function canonicalOfParsed(value: unknown): string {
  if (!hasSortedKeys(value)) return canonicalJson(value);
  const text = JSON.stringify(value);
  return text.includes('\\ud') ? canonicalJson(value) : text;
}

function hasSortedKeys(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return true;
  if (Array.isArray(value)) return value.every(hasSortedKeys);
  let last: string | null = null;
  for (const key of Object.keys(value)) {
    if (last !== null && key < last) return false;
    last = key;
    if (!hasSortedKeys((value as Record<string, unknown>)[key])) return false;
  }
  return true;
}

/** SHA-256 of the UTF-8 bytes of a text, in hex. */
export const sha256Hex = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)));

/** SHA-256 of bytes given in hex, in hex. */
export const sha256OfHex = (hex: string): string => bytesToHex(sha256(hexToBytes(hex)));

/** The name that a public key or a genesis gives: the first 16 bytes, in hex, of a SHA-256. */
export const shortHash = (hashHex: string): string => hashHex.slice(0, 32);
