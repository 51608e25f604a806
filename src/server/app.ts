import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import fastify, { type FastifyInstance } from 'fastify';

/** The built tablet app. */
const APP_FOLDER = fileURLToPath(new URL('../../dist/tablet', import.meta.url));

/** What names a file and not a place of the app: operations have points in their names too (`/sequence/5.1`). */
const A_FILE = /^\/assets\/|\.(?:js|css|map|html|json|webmanifest|svg|png|ico|woff2|txt)$/;

const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** The server as a function from request to response: it serves the app. */
export async function buildApp(folder: string = APP_FOLDER): Promise<FastifyInstance> {
  const app = fastify({ logger: false });
  app.addHook('onSend', async (_request, reply) => {
    reply.headers({
      'content-security-policy': CONTENT_POLICY,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'permissions-policy': 'geolocation=(), microphone=()',
    });
  });
  await app.register(fastifyStatic, {
    root: folder,
    cacheControl: false,
    setHeaders: (reply, path) => {
      // Hashed files never change; the page, the worker and the manifest are asked for anew.
      reply.header('cache-control', /\/assets\//.test(path) ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  app.setNotFoundHandler((request, reply) => {
    const { pathname } = new URL(request.url, 'http://localhost');
    if (request.method !== 'GET' || A_FILE.test(pathname)) return reply.code(404).type('text/plain').send('Not found');
    return reply.header('cache-control', 'no-cache').sendFile('index.html');
  });
  return app;
}
