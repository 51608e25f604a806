import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { FastifyInstance } from 'fastify';
import * as z from 'zod/mini';
import { readEntry, shortId } from '../../shared/logbook/entry.ts';
import type { PageWanted } from '../../shared/sync/port.ts';
import { servePull, servePush } from '../../shared/sync/serve.ts';
import { DatabaseEntryStore } from './database/entry-store.ts';
import type { Database } from './database/open-database.ts';
import { inflate } from './inflate.ts';
import { Refusal } from './refusal.ts';
import { accessTo } from './require-access.ts';
import type { Settings } from './settings.ts';

const zip = promisify(gzip);

/** A third smaller than level 1, at 6 µs an entry; higher levels cost more than they save. */
const LEVEL = 6;

/**
 * Entries of the token's casting:
 * `GET /sync/heads` says where each chain ends here;
 * `POST /sync/entries` brings a gzipped batch, which is kept whole or refused whole;
 * `GET /sync/entries?after=N` gives what arrived here after the first N, in the order of arrival, as a gzipped batch;
 * with `&without=DEVICE` all but that chain, with `&most=N` at most so many.
 */
export function addEntryRoutes(app: FastifyInstance, database: Database, settings: Settings): void {
  const store = new DatabaseEntryStore(database);
  app.addContentTypeParser('application/gzip', { parseAs: 'buffer' }, (_request, body, done) => done(null, body));

  app.get('/heads', async (request) => store.heads(accessTo(request).casting));

  app.post('/entries', async (request) => {
    const { casting } = accessTo(request);
    if (!Buffer.isBuffer(request.body)) throw new Refusal('media-type');
    const bytes = await inflate(request.body, settings.maxBatchBytes);
    if (bytes === 'damaged') throw new Refusal('bad-gzip');
    if (bytes === 'too-large') throw new Refusal('batch-too-large', { most: settings.maxBatchBytes });
    const limits = { mostEntries: settings.maxBatchEntries };
    const kept = await servePush(store, casting, decoded(bytes), limits, readEntry);
    if ('code' in kept) throw new Refusal(kept.code, kept.details);
    return kept;
  });

  app.get('/entries', async (request, reply) => {
    const { casting } = accessTo(request);
    const query = querySchema.safeParse(request.query);
    if (!query.success) throw new Refusal('bad-request');
    const wanted = {
      after: Number(query.data.after ?? '0'),
      without: query.data.without ?? null,
      mostEntries: Math.min(settings.maxBatchEntries, Math.max(1, Number(query.data.most ?? settings.maxBatchEntries))),
      mostText: settings.maxBatchBytes,
    };
    const page = (await store.readyAfter(casting, wanted)) ?? (await zippedNow(store, casting, wanted));
    return reply
      .type('application/gzip')
      .headers({ 'arrival-last': String(page.last), 'arrival-count': String(page.count) })
      .send(page.gz);
  });
}

async function zippedNow(store: DatabaseEntryStore, casting: string, wanted: PageWanted) {
  const { text, last, count } = await servePull(store, casting, wanted);
  return { gz: await zip(text, { level: LEVEL }), last, count };
}

const querySchema = z.object({
  after: z.optional(z.string().check(z.regex(/^\d{1,15}$/))),
  most: z.optional(z.string().check(z.regex(/^\d{1,15}$/))),
  without: z.optional(shortId()),
});

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refusal('bad-batch');
  }
}
