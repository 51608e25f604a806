import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { SyncErrorCode } from '../../shared/sync/errors.ts';
import { logFault } from './log.ts';
import { Refusal } from './refusal.ts';

type Fault = Error & { code?: string; statusCode?: number };

/** What Fastify and the databases call what the table calls otherwise. */
const namesOf: Readonly<Record<string, SyncErrorCode>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'body-too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'media-type',
  SQLITE_FULL: 'store-full',
  /** PostgreSQL: disk_full. */
  '53100': 'store-full',
};

/** Answers every error with a code of the table, and writes down those that are faults of ours. */
export function answerErrors(app: FastifyInstance): void {
  app.setErrorHandler((error: Fault, request, reply) => answer(error, request, reply));
}

/** Answers what Fastify refuses before it finds a route: an address that cannot be read. */
export function refuseMalformed(_error: Fault, request: FastifyRequest, reply: FastifyReply): void {
  answer(new Refusal('bad-request'), request, reply);
}

function answer(error: Fault, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const refusal = error instanceof Refusal ? error : new Refusal(codeOf(error));
  if (refusal.status >= 500) logFault(request, error);
  request.refusedWith = refusal.code;
  if (typeof refusal.details.retryAfter === 'number') reply.header('retry-after', String(refusal.details.retryAfter));
  return reply
    .code(refusal.status)
    .type('application/json; charset=utf-8')
    .send({ error: { code: refusal.code, ...refusal.details } });
}

function codeOf({ code = '', statusCode = 500 }: Fault): SyncErrorCode {
  if (Object.hasOwn(namesOf, code)) return namesOf[code]!;
  return statusCode >= 400 && statusCode < 500 ? 'bad-request' : 'server-fault';
}
