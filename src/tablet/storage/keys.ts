import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import { sha256OfHex, shortHash } from '../../../shared/logbook/canonical.ts';
import type { Signer, Verifier } from '../../../shared/logbook/crypto.ts';
import type { TabletKeyRow } from './database.ts';

/** Of every key here. */
export const CURVE = { name: 'ECDSA', namedCurve: 'P-256' } as const;
const SIGNATURE = { name: 'ECDSA', hash: 'SHA-256' } as const;

export const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const bytes = (hex: string): Uint8Array<ArrayBuffer> => new Uint8Array(hexToBytes(hex));
export const randomBytes = (length: number): Uint8Array<ArrayBuffer> => crypto.getRandomValues(new Uint8Array(length));
export const publicHex = async (key: CryptoKey): Promise<string> =>
  bytesToHex(new Uint8Array(await crypto.subtle.exportKey('raw', key)));

/** A random id of 16 bytes, in hex. */
export const randomId = (): string => bytesToHex(randomBytes(16));

export const deviceOf = (publicKey: string): string => shortHash(sha256OfHex(publicKey));

/** A log has many signatures by few keys: the last of them are kept as the browser reads them. */
const KEYS_KEPT = 200;
const verifyingKeys = new Map<string, Promise<CryptoKey>>();

function verifying(publicKey: string): Promise<CryptoKey> {
  const found = verifyingKeys.get(publicKey);
  if (found !== undefined) return found;
  if (verifyingKeys.size >= KEYS_KEPT) verifyingKeys.clear();
  const key = crypto.subtle.importKey('raw', bytes(publicKey), CURVE, false, ['verify']);
  verifyingKeys.set(publicKey, key);
  return key;
}

export const webVerifier: Verifier = {
  async verify(publicKey, signature, text) {
    try {
      return await crypto.subtle.verify(SIGNATURE, await verifying(publicKey), bytes(signature), utf8(text));
    } catch {
      // A key that is no point of the curve verifies nothing.
      return false;
    }
  },
};

export const signerOf = (publicKey: string, key: CryptoKey): Signer => ({
  publicKey,
  sign: async (text) => bytesToHex(new Uint8Array(await crypto.subtle.sign(SIGNATURE, key, utf8(text)))),
});

/** A new tablet key. Its private parts never leave this browser's storage. */
export async function makeTabletKey(): Promise<TabletKeyRow> {
  const pair = await crypto.subtle.generateKey(CURVE, false, ['sign', 'verify']);
  const wrapping = await crypto.subtle.generateKey({ name: 'AES-GCM', length: 256 }, false, ['encrypt', 'decrypt']);
  return { id: 'tablet', publicKey: await publicHex(pair.publicKey), signing: pair.privateKey, wrapping };
}

export const tabletSigner = (row: TabletKeyRow): Signer => signerOf(row.publicKey, row.signing);
