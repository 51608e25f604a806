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

/** SHA-256 of the UTF-8 bytes of a text, in hex. */
export const sha256Hex = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)));

/** SHA-256 of bytes given in hex, in hex. */
export const sha256OfHex = (hex: string): string => bytesToHex(sha256(hexToBytes(hex)));

/** The name that a public key or a genesis gives: the first 16 bytes, in hex, of a SHA-256. */
export const shortHash = (hashHex: string): string => hashHex.slice(0, 32);
