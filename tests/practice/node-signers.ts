import { webcrypto } from 'node:crypto';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Signer } from '../../shared/logbook/crypto.ts';

const CURVE = { name: 'ECDSA', namedCurve: 'P-256' } as const;
const SIGNATURE = { name: 'ECDSA', hash: 'SHA-256' } as const;

/** A signer with a new key, held in memory. */
export async function newSigner(): Promise<Signer> {
  const pair = await webcrypto.subtle.generateKey(CURVE, false, ['sign', 'verify']);
  const publicKey = bytesToHex(new Uint8Array(await webcrypto.subtle.exportKey('raw', pair.publicKey)));
  return {
    publicKey,
    sign: async (text) => {
      const made = await webcrypto.subtle.sign(SIGNATURE, pair.privateKey, new TextEncoder().encode(text));
      return bytesToHex(new Uint8Array(made));
    },
  };
}
