import rateLimit from '@fastify/rate-limit';
import fastify, { type FastifyInstance, LogController } from 'fastify';
import type { Access } from './access.ts';
import { answerErrors, refuseMalformed } from './answer-errors.ts';
import { addBlobRoutes } from './blob-routes.ts';
import type { Database } from './database/open-database.ts';
import { addEntryRoutes } from './entry-routes.ts';
import { addSecurityHeaders } from './headers.ts';
import { addHealth } from './health.ts';
import { addJoinRoute } from './join-route.ts';
import { logRequests } from './log.ts';
import { addAccess } from './require-access.ts';
import { APP_FOLDER, serveApp } from './serve-app.ts';
import type { Settings } from './settings.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** What its token lets the tablet do; null where no token was asked for. */
    access: Access | null;
    /** The code that it was refused with; null where it was not. */
    refusedWith: string | null;
  }
}

/** What a server is made of. */
export interface ServerParts {
  readonly database: Database;
  readonly settings: Settings;
  /** The built app; another in tests. */
  readonly folder?: string;
  /** Where the log goes; standard error without. */
  readonly log?: { write(line: string): void };
  readonly https?: { readonly cert: Buffer; readonly key: Buffer };
  /** Milliseconds since 1970. */
  readonly now?: () => number;
}

/** How long a client may take to send one request, in ms: whoever trickles bytes is not waited for. */
const REQUEST_TIMEOUT = 120_000;

/** The server as a function from request to response: the app, the sync, the photos. It listens to nothing yet. */
export async function buildServer(parts: ServerParts): Promise<FastifyInstance> {
  const { database, settings, folder = APP_FOLDER, log = process.stderr, now = Date.now } = parts;
  const app = fastify({
    ...(parts.https ? { https: parts.https } : {}),
    logger: { level: settings.logLevel, stream: log, base: null },
    // Fastify's own lines hold addresses and paths; ours, in log.ts, do not.
    logController: new LogController({ disableRequestLogging: true }),
    trustProxy: settings.trustedProxies ?? false,
    bodyLimit: settings.maxBodyBytes,
    requestTimeout: REQUEST_TIMEOUT,
    frameworkErrors: refuseMalformed,
  }) as unknown as FastifyInstance;
  app.decorateRequest('access', null);
  app.decorateRequest('refusedWith', null);
  addSecurityHeaders(app);
  logRequests(app);
  answerErrors(app);
  addHealth(app, database);
  await app.register(rateLimit, { global: false });
  app.register(
    (sync, _options, done) => {
      sync.addHook('onSend', async (_request, reply) => {
        reply.header('cache-control', 'no-store');
      });
      addJoinRoute(sync, database, settings, now);
      sync.register((carrying, _, ready) => {
        addAccess(carrying, database, settings);
        addEntryRoutes(carrying, database, settings);
        addBlobRoutes(carrying, database, settings);
        ready();
      });
      done();
    },
    { prefix: '/sync' },
  );
  await serveApp(app, folder);
  return app;
}
