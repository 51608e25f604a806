import type { FastifyInstance } from 'fastify';
import type { Database } from './database/open-database.ts';
import { logFault } from './log.ts';

/** `GET /health`: 200 when the database answers, 503 when it does not. It tells nothing else, since anybody may ask. */
export function addHealth(app: FastifyInstance, { db }: Database): void {
  app.get('/health', async (request, reply) => {
    reply.header('cache-control', 'no-store');
    try {
      await db.selectNoFrom((e) => e.lit(1).as('one')).execute();
      return reply.send({ well: true });
    } catch (error) {
      logFault(request, error as Error);
      return reply.code(503).send({ well: false });
    }
  });
}
