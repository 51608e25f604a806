import type { Signer } from '../../../shared/logbook/crypto.ts';
import type { PersonKeyRow, TabletKeyRow } from './database.ts';
import { CURVE, publicHex, randomBytes, signerOf, utf8 } from './keys.ts';

/** Rounds of PBKDF2-HMAC-SHA-256 on a PIN; OWASP's figure of 2023 for this hash. */
const PIN_ROUNDS = 600_000;

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
