import type { FastifyInstance } from 'fastify';
import * as z from 'zod/mini';
import { shortId } from '../../shared/logbook/entry.ts';
import { join } from './access.ts';
import type { Database } from './database/open-database.ts';
import { Refusal } from './refusal.ts';
import { refuseTooMany } from './require-access.ts';
import type { Settings } from './settings.ts';

const joinSchema = z.strictObject({
  code: z.string().check(z.minLength(1), z.maxLength(40)),
  /** Left out by a tablet that has nothing of the casting yet: the code names it. */
  casting: z.optional(shortId()),
  device: shortId(),
});

/** `POST /sync/join`: a one-time code for a token. */
export function addJoinRoute(app: FastifyInstance, { db }: Database, settings: Settings, now: () => number): void {
  const limit = app.createRateLimit({
    max: settings.joinsPerMinute,
    timeWindow: 60_000,
    keyGenerator: ({ ip }) => `join ${ip}`,
  });
  app.post('/join', { bodyLimit: 4096 }, async (request) => {
    await refuseTooMany(limit, request);
    const asked = joinSchema.safeParse(request.body);
    if (!asked.success) throw new Refusal('bad-request');
    const { code, casting = null, device } = asked.data;
    const joined = await join(db, { code, casting, device }, now());
    if (joined === null) throw new Refusal('wrong-code');
    return joined;
  });
}
