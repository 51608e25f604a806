import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { FastifyInstance } from 'fastify';
import { DatabaseEntryStore } from './database/entry-store.ts';
import type { Database } from './database/open-database.ts';
import { inflate } from './inflate.ts';
import { readBatch } from './read-batch.ts';
import { Refusal } from './refusal.ts';
import { accessTo } from './require-access.ts';
import type { Settings } from './settings.ts';

const zip = promisify(gzip);

/** Bytes of gzip are the same for the same entries, and quick to make: most of the saving is in the first level. */
const LEVEL = 1;

/**
 * Entries of the token's casting:
 * `GET /sync/heads` says where each chain ends here;
 * `POST /sync/entries` brings a gzipped batch, which is kept whole or refused whole;
 * `GET /sync/entries?after=N` gives what arrived here after the first N, in the order of arrival, gzipped.
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
    const entries = readBatch(bytes, casting, settings.maxBatchEntries);
    const kept = await store.append(casting, entries);
    if ('gap' in kept) throw new Refusal('gap', { device: kept.gap.device, seq: kept.gap.seq });
    return { added: kept.added };
  });

  app.get('/entries', async (request, reply) => {
    const { casting } = accessTo(request);
    const after = /^\d{1,15}$/.exec(String((request.query as { after?: unknown }).after ?? '0'));
    if (!after) throw new Refusal('bad-request');
    const page = await store.arrivedAfter(casting, Number(after[0]), settings.maxBatchEntries, settings.maxBatchBytes);
    const text = page.texts.map((line) => `${line}\n`).join('');
    return reply
      .type('application/gzip')
      .headers({ 'arrival-last': String(page.last), 'arrival-count': String(page.count) })
      .send(await zip(text, { level: LEVEL }));
  });
}
