import { fileURLToPath } from 'node:url';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import { Refusal } from './refusal.ts';

/** The built tablet app. */
export const APP_FOLDER = fileURLToPath(new URL('../../dist/tablet', import.meta.url));

/** What names a file and not a place of the app: operations have points in their names too (`/sequence/5.1`). */
const A_FILE = /^\/assets\/|\.(?:js|css|map|html|json|webmanifest|svg|png|ico|woff2|txt)$/;

/** What tablets ask for and no person looks at. */
const SYNC = /^\/sync(?:\/|$)/;

/** Serves the tablet app: its files, and its page for every place in it. */
export async function serveApp(app: FastifyInstance, folder: string): Promise<void> {
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
    if (SYNC.test(pathname)) throw new Refusal('not-found');
    if (request.method !== 'GET' || A_FILE.test(pathname)) return reply.code(404).type('text/plain').send('Not found');
    return reply.header('cache-control', 'no-cache').sendFile('index.html');
  });
}
