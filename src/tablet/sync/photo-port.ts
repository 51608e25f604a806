import { type BlobThere, type PhotoPort, PhotoRefused } from '../../../shared/sync/carry-photos.ts';
import { isSyncErrorCode } from '../../../shared/sync/errors.ts';
import { ANSWER_WITHIN_ms } from '../../../shared/sync/limits.ts';
import { refusalSchema } from '../../../shared/sync/messages.ts';
import { bearer, plainly, type ServerLink } from './server-requests.ts';

/**
 * The server's blob routes over HTTP: `docs/sync.md`, Photos. A request that has had no answer for a minute is lost.
 * @param signal breaks off what is under way
 */
export function photoPort(link: ServerLink, signal: AbortSignal): PhotoPort {
  const ask = async (hash: string, init: RequestInit): Promise<Response> => {
    const request = new AbortController();
    const end = () => request.abort();
    const alarm = setTimeout(end, ANSWER_WITHIN_ms);
    signal.addEventListener('abort', end);
    try {
      if (signal.aborted) end();
      const answer = await fetch(`${link.address}/sync/blobs/${hash}`, {
        ...plainly,
        ...init,
        headers: { ...bearer(link), ...init.headers },
        signal: request.signal,
      });
      // Read to its end here, while the alarm still watches.
      const bytes = await answer.arrayBuffer();
      return new Response(NO_BODY.has(answer.status) ? null : bytes, answer);
    } finally {
      clearTimeout(alarm);
      signal.removeEventListener('abort', end);
    }
  };
  return {
    async state(hash) {
      const answer = await ask(hash, { method: 'HEAD' });
      if (answer.status === 404) return null;
      return answer.ok ? thereOf(answer) : refused(answer);
    },
    async put(hash, size, start, part) {
      const answer = await ask(hash, {
        method: 'PUT',
        headers: {
          'content-type': 'application/octet-stream',
          'content-range': `bytes ${start}-${start + part.length - 1}/${size}`,
        },
        body: part,
      });
      return answer.ok ? thereOf(answer) : refused(answer);
    },
    async get(hash, from, to) {
      const answer = await ask(hash, { headers: { range: `bytes=${from}-${to - 1}` } });
      if (answer.status === 404) return null;
      if (!answer.ok) return refused(answer);
      const bytes = new Uint8Array(await answer.arrayBuffer());
      // Who knows no ranges gives the whole.
      return answer.status === 206 ? bytes : bytes.slice(from, to);
    },
  };
}

/** Statuses that a made-up response may have no body with. */
const NO_BODY: ReadonlySet<number> = new Set([204, 205, 304]);

function thereOf({ headers }: Response): BlobThere {
  const here = Number(headers.get('upload-offset') ?? Number.NaN);
  if (!Number.isSafeInteger(here) || here < 0) throw new Error('No answer of a server that this build knows');
  return { here, complete: headers.get('upload-complete') === '?1' };
}

/** An answer to HEAD has no words: its status alone says what became of it. */
async function refused(answer: Response): Promise<never> {
  const said: unknown = await answer.json().catch(() => null);
  const refusal = refusalSchema.safeParse(said);
  if (refusal.success && isSyncErrorCode(refusal.data.error.code)) throw new PhotoRefused(refusal.data.error.code);
  throw new Error(`The server answered ${answer.status}`);
}
