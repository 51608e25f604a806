import type { Entry } from './entry.ts';
import { signedPart, signedText } from './entry.ts';
import type { SignatureCheck } from './log.ts';

/** Checks ECDSA P-256 with SHA-256: tablet and server give WebCrypto's. Keys and signatures are hex. */
export interface Verifier {
  verify(publicKey: string, signature: string, text: string): Promise<boolean>;
}

/** Signs with one private key. */
export interface Signer {
  readonly publicKey: string;
  sign(text: string): Promise<string>;
}

/**
 * Whether the signature that an entry carries verifies with the key that it carries.
 * @param text of the entry, as `readEntry` passed it, where it is at hand
 */
export async function checkSignature(entry: Entry, verifier: Verifier, text?: string): Promise<SignatureCheck> {
  if (!entry.signature) return 'none';
  const signed = text === undefined ? signedText(entry) : signedPart(text);
  const good = await verifier.verify(entry.signature.key, entry.signature.value, signed);
  return good ? 'good' : 'bad';
}
