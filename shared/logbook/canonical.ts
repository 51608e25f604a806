import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import { textSha256 } from './text-sha256.ts';

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
 * Whether a text is the RFC 8785 form of the value that was parsed from it. The browser's own JSON.stringify writes
 * numbers and texts as RFC 8785 has them and leaves keys as they stood; only what it may write otherwise (keys that look
 * like array places, lone surrogates) is written out anew.
 * @throws {Error} for what JSON cannot hold, e.g. lone surrogates
 */
export function isCanonical(value: unknown, text: string): boolean {
  const isPlain = !text.includes('\\ud') && JSON.stringify(value) === text && hasSortedKeys(value);
  return isPlain || canonicalJson(value) === text;
}

/** The canonical form of a value that was parsed from canonical text: its keys are sorted already. */
export function canonicalAgain(value: unknown): string {
  const text = JSON.stringify(value);
  return !text.includes('\\ud') && hasSortedKeys(value) ? text : canonicalJson(value);
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
export const sha256Hex = textSha256;

/** SHA-256 of bytes given in hex, in hex. */
export const sha256OfHex = (hex: string): string => bytesToHex(sha256(hexToBytes(hex)));

/** The name that a public key or a genesis gives: the first 16 bytes, in hex, of a SHA-256. */
export const shortHash = (hashHex: string): string => hashHex.slice(0, 32);
