import fastify, { type FastifyInstance } from 'fastify';
import { answerErrors } from '../../src/server/answer-errors.ts';
import { addSecurityHeaders } from '../../src/server/headers.ts';
import { serveApp } from '../../src/server/serve-app.ts';

/** The app as the server serves it, from any folder and with no database behind it. */
export async function buildApp(folder: string): Promise<FastifyInstance> {
  const app = fastify({ logger: false });
  addSecurityHeaders(app);
  answerErrors(app);
  await serveApp(app, folder);
  return app;
}
