import * as z from 'zod/mini';
import { shortId } from '../../../shared/logbook/entry.ts';
import type { Answer, Request } from '../../../shared/sync/client-state.ts';
import { PULL_ENTRIES } from '../../../shared/sync/limits.ts';
import { refusalSchema } from '../../../shared/sync/messages.ts';
import { readAnswer } from '../../../shared/sync/read-answer.ts';
import type { PageText } from './page-checker.ts';
import { gunzipped, gzipped } from './zip.ts';

/** Where the server answers, and what lets this tablet in. */
export interface ServerLink {
  /** An origin: `https://lehrbook.internal:8080`. */
  readonly address: string;
  readonly token: string;
}

/** What goes with every request that bears a token. */
export const bearer = ({ token }: ServerLink): { authorization: string } => ({ authorization: `Bearer ${token}` });

/** No browser keeps an answer, sends a cookie, or follows to another place. */
export const plainly = { cache: 'no-store', credentials: 'omit', redirect: 'error' } as const;

/**
 * Asks the server over HTTP.
 * @returns null when what came back is no answer of a server that this build knows.
 * @throws {Error} when nothing came back, or not whole.
 */
export async function askServer(
  link: ServerLink,
  what: Request,
  signal: AbortSignal,
  { headed, unzip }: PageReading = plainReading,
): Promise<Answer | null> {
  const { path, ...init } = await httpOf(what);
  const response = await fetch(link.address + path, {
    ...plainly,
    ...init,
    headers: { ...bearer(link), ...init.headers },
    signal,
  });
  const { status, headers } = response;
  if (what.to !== 'pull' || status !== 200) return readAnswer(what.to, { status, text: await response.text() });
  const [last, count] = [headers.get('arrival-last'), headers.get('arrival-count')];
  if (last !== null && count !== null) headed(Number(last), Number(count));
  const page = await unzip(await response.arrayBuffer());
  const answer = readAnswer(what.to, { status, text: 'text' in page ? page.text : '', last, count });
  return answer?.of === 'pull' && 'batch' in page ? { ...answer, batch: page.batch } : answer;
}

/** How pages of arrivals are read. */
export interface PageReading {
  /** Hears how far a page goes before its bytes have come. */
  readonly headed: (last: number, count: number) => void;
  readonly unzip: (gz: ArrayBuffer) => Promise<PageText>;
}

const plainReading: PageReading = { headed: () => undefined, unzip: async (gz) => ({ text: await gunzipped(gz) }) };

interface HttpRequest {
  readonly path: string;
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: ArrayBuffer;
}

async function httpOf(what: Request): Promise<HttpRequest> {
  switch (what.to) {
    case 'heads':
      return { path: '/sync/heads' };
    case 'push':
      return {
        path: '/sync/entries',
        method: 'POST',
        headers: { 'content-type': 'application/gzip' },
        body: await gzipped(what.text),
      };
    case 'pull': {
      const without = what.without === null ? '' : `&without=${what.without}`;
      return { path: `/sync/entries?after=${what.after}&most=${PULL_ENTRIES}${without}` };
    }
  }
}

const joinedSchema = z.object({ token: z.string().check(z.minLength(1)), casting: shortId() });

/**
 * Gives a one-time code for a token.
 * @param casting left out by a tablet that has nothing of it yet
 * @returns what the server gave, the code of its refusal, or `no-answer`
 */
export async function joinServer(
  address: string,
  asked: { readonly code: string; readonly casting?: string; readonly device: string },
): Promise<{ readonly token: string; readonly casting: string } | { readonly refused: string }> {
  try {
    const headers = { 'content-type': 'application/json' };
    const response = await fetch(`${address}/sync/join`, {
      ...plainly,
      method: 'POST',
      headers,
      body: JSON.stringify(asked),
    });
    const said: unknown = await response.json();
    const joined = joinedSchema.safeParse(said);
    if (response.ok && joined.success) return joined.data;
    const refusal = refusalSchema.safeParse(said);
    return { refused: refusal.success ? refusal.data.error.code : 'unknown-answer' };
  } catch {
    return { refused: 'no-answer' };
  }
}
