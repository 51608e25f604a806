import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import { sha256OfHex, shortHash } from '../../../shared/logbook/canonical.ts';
import type { Signer, Verifier } from '../../../shared/logbook/crypto.ts';
import type { PersonKeyRow, TabletKeyRow } from './database.ts';

const CURVE = { name: 'ECDSA', namedCurve: 'P-256' } as const;
const SIGNATURE = { name: 'ECDSA', hash: 'SHA-256' } as const;
/** Rounds of PBKDF2-HMAC-SHA-256 on a PIN; OWASP's figure of 2023 for this hash. */
const PIN_ROUNDS = 600_000;

const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const bytes = (hex: string): Uint8Array<ArrayBuffer> => new Uint8Array(hexToBytes(hex));
const randomBytes = (length: number): Uint8Array<ArrayBuffer> => crypto.getRandomValues(new Uint8Array(length));
const publicHex = async (key: CryptoKey): Promise<string> =>
  bytesToHex(new Uint8Array(await crypto.subtle.exportKey('raw', key)));

/** A random id of 16 bytes, in hex. */
export const randomId = (): string => bytesToHex(randomBytes(16));

export const deviceOf = (publicKey: string): string => shortHash(sha256OfHex(publicKey));

export const webVerifier: Verifier = {
  async verify(publicKey, signature, text) {
    try {
      const key = await crypto.subtle.importKey('raw', bytes(publicKey), CURVE, false, ['verify']);
      return await crypto.subtle.verify(SIGNATURE, key, bytes(signature), utf8(text));
    } catch {
      // A key that is no point of the curve verifies nothing.
      return false;
    }
  },
};

const signerOf = (publicKey: string, key: CryptoKey): Signer => ({
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

async function pinKey(pin: string, salt: Uint8Array<ArrayBuffer>): Promise<CryptoKey> {
  const material = await crypto.subtle.importKey('raw', utf8(pin), 'PBKDF2', false, ['deriveKey']);
  return crypto.subtle.deriveKey(
    { name: 'PBKDF2', hash: 'SHA-256', salt, iterations: PIN_ROUNDS },
    material,
    { name: 'AES-GCM', length: 256 },
    false,
    ['encrypt', 'decrypt'],
  );
}

/** A new key for a person on this tablet, wrapped by the PIN and by the tablet's own key. */
export async function makePersonKey(person: string, pin: string, tablet: TabletKeyRow): Promise<PersonKeyRow> {
  const pair = await crypto.subtle.generateKey(CURVE, true, ['sign', 'verify']);
  const secret = await crypto.subtle.exportKey('pkcs8', pair.privateKey);
  const [salt, pinIv, tabletIv] = [randomBytes(16), randomBytes(12), randomBytes(12)];
  const byPin = await crypto.subtle.encrypt({ name: 'AES-GCM', iv: pinIv }, await pinKey(pin, salt), secret);
  const wrapped = await crypto.subtle.encrypt({ name: 'AES-GCM', iv: tabletIv }, tablet.wrapping, byPin);
  return { publicKey: await publicHex(pair.publicKey), person, salt, pinIv, tabletIv, wrapped };
}

/** The person's signer if the PIN opens the key, else null. */
export async function openPersonKey(row: PersonKeyRow, pin: string, tablet: TabletKeyRow): Promise<Signer | null> {
  const byPin = await crypto.subtle.decrypt({ name: 'AES-GCM', iv: row.tabletIv }, tablet.wrapping, row.wrapped);
  try {
    const secret = await crypto.subtle.decrypt({ name: 'AES-GCM', iv: row.pinIv }, await pinKey(pin, row.salt), byPin);
    return signerOf(row.publicKey, await crypto.subtle.importKey('pkcs8', secret, CURVE, false, ['sign']));
  } catch {
    return null;
  }
}
