import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { addPart, type BlobFault, type BlobState, blobBytes, blobState } from './blobs.ts';
import type { Database } from './database/open-database.ts';
import { Refusal } from './refusal.ts';
import { accessTo } from './require-access.ts';
import type { Settings } from './settings.ts';

const codes = { gap: 'blob-gap', 'other-size': 'blob-size', 'wrong-hash': 'blob-hash' } as const satisfies Record<
  BlobFault,
  string
>;

/**
 * Photos and logger files by their SHA-256, in parts that can be taken up again:
 * `HEAD` says how far it has come, `PUT` adds a part (Content-Range, RFC 9110 section 14.4), `GET` gives it or a range.
 */
export function addBlobRoutes(app: FastifyInstance, { db }: Database, settings: Settings): void {
  app.addContentTypeParser('application/octet-stream', { parseAs: 'buffer' }, (_request, body, done) =>
    done(null, body),
  );

  app.head('/blobs/*', async (request, reply) => {
    const state = await blobState(db, accessTo(request).casting, nameIn(request));
    return tell(reply, state ?? refuse('not-found')).send();
  });

  app.put('/blobs/*', async (request, reply) => {
    const hash = nameIn(request);
    const bytes = Buffer.isBuffer(request.body) ? request.body : refuse('media-type');
    const { start, size } = partOf(request, bytes.length);
    if (size > settings.maxBlobBytes) throw new Refusal('blob-too-large', { most: settings.maxBlobBytes });
    const state = await addPart(db, { casting: accessTo(request).casting, hash, start, size }, bytes);
    if ('fault' in state) throw new Refusal(codes[state.fault], { here: state.here });
    return tell(reply, state).send(state);
  });

  app.get('/blobs/*', { exposeHeadRoute: false }, async (request, reply) => {
    const hash = nameIn(request);
    const { casting } = accessTo(request);
    const state = await blobState(db, casting, hash);
    if (!state?.complete) throw new Refusal('not-found');
    const { from, to } = rangeOf(request, state.size);
    if (to - from < state.size) reply.code(206).header('content-range', `bytes ${from}-${to - 1}/${state.size}`);
    return (
      reply
        .type('application/octet-stream')
        // What a tablet put here is never shown as a page of this address.
        .header('content-disposition', 'attachment')
        .header('accept-ranges', 'bytes')
        .header('content-length', to - from)
        .send(Readable.from(blobBytes(db, casting, hash, from, to)))
    );
  });
}

function refuse(code: ConstructorParameters<typeof Refusal>[0]): never {
  throw new Refusal(code);
}

/** The name that is asked for: 64 hex digits, whatever else stood in the address. */
function nameIn(request: FastifyRequest): string {
  const name = (request.params as { '*': string })['*'];
  return /^[0-9a-f]{64}$/.test(name) ? name : refuse('blob-name');
}

function tell(reply: FastifyReply, state: BlobState): FastifyReply {
  return reply.headers({
    'upload-offset': String(state.here),
    'upload-length': String(state.size),
    'upload-complete': state.complete ? '?1' : '?0',
  });
}

/** Which part of the whole a body is: all of it, or what Content-Range says. */
function partOf({ headers }: FastifyRequest, length: number): { start: number; size: number } {
  if (length === 0) throw new Refusal('blob-range');
  const range = headers['content-range'];
  if (range === undefined) return { start: 0, size: length };
  const [start, end, size] = (/^bytes (\d{1,12})-(\d{1,12})\/(\d{1,12})$/.exec(range) ?? refuse('blob-range'))
    .slice(1)
    .map(Number) as [number, number, number];
  if (end - start + 1 !== length || end >= size) throw new Refusal('blob-range');
  return { start, size };
}

/** The bytes that a GET asks for: one range from a byte on, as a tablet asks that goes on where it was; else all. */
function rangeOf({ headers }: FastifyRequest, size: number): { from: number; to: number } {
  const [, first, last] = /^bytes=(\d{1,12})-(\d{0,12})$/.exec(headers.range ?? '') ?? [];
  if (first === undefined) return { from: 0, to: size };
  const from = Number(first);
  const to = last ? Math.min(Number(last) + 1, size) : size;
  if (from >= to) throw new Refusal('blob-range', { size });
  return { from, to };
}
