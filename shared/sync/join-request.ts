import * as z from 'zod/mini';
import { canonicalJson, sha256OfHex, shortHash } from '../logbook/canonical.ts';
import type { Signer, Verifier } from '../logbook/crypto.ts';
import { publicKey, shortId } from '../logbook/entry.ts';

const words = z.string().check(z.minLength(1), z.maxLength(200));

/**
 * What a tablet asks the keepers of the roster for: to admit it, and to vouch for the keys that people made on it.
 * Signed by the tablet, and by each person's key: nobody can ask with a key that they do not hold.
 */
export const joinRequestSchema = z.strictObject({
  says: z.literal('join'),
  format: z.literal(1),
  casting: shortId(),
  name: words,
  key: publicKey(),
  people: z.array(z.strictObject({ person: shortId(), key: publicKey(), signature: z.string() })),
  signature: z.string(),
});
export type JoinRequest = z.infer<typeof joinRequestSchema>;

/** The device that a request is of. */
export const deviceOfRequest = ({ key }: JoinRequest): string => shortHash(sha256OfHex(key));

export interface PersonsKey {
  readonly person: string;
  readonly key: string;
  /** By that key, over `personsText`. */
  readonly signature: string;
}

/** What a person signs with the key that they made: that it is theirs, on this tablet, in this casting. */
export const personsText = (casting: string, tabletKey: string, person: string): string =>
  canonicalJson({ says: 'my key', casting, tablet: tabletKey, person });

const requestText = ({ signature: _, ...rest }: JoinRequest): string => canonicalJson(rest);

/** A request as the text of a file. */
export async function writeJoinRequest(
  casting: string,
  name: string,
  people: readonly PersonsKey[],
  tablet: Signer,
): Promise<string> {
  const unsigned: JoinRequest = {
    says: 'join',
    format: 1,
    casting,
    name,
    key: tablet.publicKey,
    people: people.map(({ person, key, signature }) => ({ person, key, signature })),
    signature: '',
  };
  return `${canonicalJson({ ...unsigned, signature: await tablet.sign(requestText(unsigned)) })}\n`;
}

export type RequestFault = 'other-casting' | 'request-signature';

/** Reads a request; null when the text is none. */
export async function readJoinRequest(
  text: string,
  casting: string,
  verifier: Verifier,
): Promise<JoinRequest | { fault: RequestFault } | null> {
  const request = parse(text);
  if (!request) return null;
  if (request.casting !== casting) return { fault: 'other-casting' };
  const signed = await verifier.verify(request.key, request.signature, requestText(request));
  const own = await Promise.all(
    request.people.map(({ person, key, signature }) =>
      verifier.verify(key, signature, personsText(casting, request.key, person)),
    ),
  );
  return signed && own.every(Boolean) ? request : { fault: 'request-signature' };
}

function parse(text: string): JoinRequest | null {
  try {
    const read = joinRequestSchema.safeParse(JSON.parse(text));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}
