import * as z from 'zod/mini';
import { headSchema, shortId } from '../logbook/entry.ts';
import { BRANCHES_MAX } from './limits.ts';

/** Where each chain ends: the answer to `GET /sync/heads`, and part of every batch's header. */
export const headsSchema = z.record(shortId(), z.array(headSchema).check(z.minLength(1), z.maxLength(BRANCHES_MAX)));

/** The first line of a batch: how many entries follow, and where each chain in it must end. */
export const batchHeaderSchema = z.strictObject({
  says: z.literal('entries'),
  entries: z.int().check(z.gte(0)),
  heads: headsSchema,
});

/** The answer to a batch that was kept. A later server may say more. */
export const pushAnswerSchema = z.object({ added: z.int().check(z.gte(0)) });

/** The body of every refusal; what else it says depends on the code. */
export const refusalSchema = z.object({
  error: z.object({
    code: z.string(),
    line: z.optional(z.int()),
    device: z.optional(shortId()),
    retryAfter: z.optional(z.number().check(z.gte(0))),
  }),
});
