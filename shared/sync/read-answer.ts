import type { Answer, Request } from './client-state.ts';
import { headsSchema, pushAnswerSchema, refusalSchema } from './messages.ts';

/** What came back over HTTP, unzipped. The two numbers stand in headers and come with entries alone. */
export interface Response {
  readonly status: number;
  readonly text: string;
  /** The headers `arrival-last` and `arrival-count`. */
  readonly last?: string | null;
  readonly count?: string | null;
}

/** Reads the answer to a request; null when it is none that this build knows, as of a page that stands in between. */
export function readAnswer(to: Request['to'], { status, text, last, count }: Response): Answer | null {
  if (status !== 200) return readRefusal(text);
  if (to === 'pull') {
    if (!isNumber(last) || !isNumber(count)) return null;
    return { of: 'pull', text, last: Number(last), count: Number(count) };
  }
  const json = parsed(text);
  if (to === 'push') return pushAnswerSchema.safeParse(json).success ? { of: 'push' } : null;
  const heads = headsSchema.safeParse(json);
  return heads.success ? { of: 'heads', heads: heads.data } : null;
}

function readRefusal(text: string): Answer | null {
  const refusal = refusalSchema.safeParse(parsed(text));
  if (!refusal.success) return null;
  const { code, device, retryAfter } = refusal.data.error;
  return { of: 'refusal', code, device, retryAfter };
}

const isNumber = (text: string | null | undefined): text is string => /^\d{1,15}$/.test(text ?? '');

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
