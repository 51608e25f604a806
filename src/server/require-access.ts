import type { FastifyInstance, FastifyRequest } from 'fastify';
import { type Access, accessOf } from './access.ts';
import type { Database } from './database/open-database.ts';
import { Refusal } from './refusal.ts';
import type { Settings } from './settings.ts';

/**
 * Lets in only who bears a good token, before anything of the body is read, and counts requests: of a tablet by its
 * token, of others by their address, so that nobody uses up what a tablet may ask by making tokens up.
 */
export function addAccess(app: FastifyInstance, { db }: Database, settings: Settings): void {
  const limit = app.createRateLimit({
    max: settings.requestsPerMinute,
    timeWindow: 60_000,
    keyGenerator: ({ access, ip }) => (access ? `tablet ${access.id}` : `address ${ip}`),
  });
  app.addHook('onRequest', async (request) => {
    const token = bearerToken(request);
    request.access = token === null ? null : await accessOf(db, token);
    await refuseTooMany(limit, request);
    if (!request.access) throw new Refusal(token === null ? 'no-token' : 'bad-token');
  });
}

type Limit = ReturnType<FastifyInstance['createRateLimit']>;

/** @throws {Refusal} when the caller has asked too often, with the seconds to wait */
export async function refuseTooMany(limit: Limit, request: FastifyRequest): Promise<void> {
  const counted = await limit(request);
  if (!counted.isAllowed && counted.isExceeded) {
    throw new Refusal('too-many-requests', { retryAfter: counted.ttlInSeconds });
  }
}

/** What the request's token lets it do: the hook above has seen to it that there is one. */
export const accessTo = (request: FastifyRequest): Access => request.access!;

function bearerToken({ headers }: FastifyRequest): string | null {
  return /^Bearer ([\w-]{1,200})$/.exec(headers.authorization ?? '')?.[1] ?? null;
}
