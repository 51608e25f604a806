import * as z from 'zod/mini';
import { canonicalJson, sha256OfHex, shortHash } from './canonical.ts';
import type { Signer, Verifier } from './crypto.ts';
import { hash, publicKey, shortId } from './entry.ts';

/** What a tablet says of its own chain when it hands entries on: how far it goes, signed with the tablet's key. */
export const signedHeadSchema = z.strictObject({
  casting: shortId(),
  device: shortId(),
  seq: z.int().check(z.gte(1)),
  hash: hash(),
  key: publicKey(),
  signature: z.string(),
});
export type SignedHead = z.infer<typeof signedHeadSchema>;

type Statement = Omit<SignedHead, 'signature'>;

const statement = ({ casting, device, seq, hash: head, key }: Statement): string =>
  canonicalJson({ says: 'head', casting, device, seq, hash: head, key });

export async function signHead(head: Omit<Statement, 'key'>, signer: Signer): Promise<SignedHead> {
  const said = { ...head, key: signer.publicKey };
  return { ...said, signature: await signer.sign(statement(said)) };
}

/** Whether the tablet of that name signed this head. */
export async function verifyHead(head: SignedHead, verifier: Verifier): Promise<boolean> {
  if (shortHash(sha256OfHex(head.key)) !== head.device) return false;
  return verifier.verify(head.key, head.signature, statement(head));
}
