import { type BlobThere, type PhotoPort, PhotoRefused } from '../../../shared/sync/carry-photos.ts';
import { isSyncErrorCode } from '../../../shared/sync/errors.ts';
import { refusalSchema } from '../../../shared/sync/messages.ts';
import { bearer, plainly, type ServerLink } from './server-requests.ts';

/** The server's blob routes over HTTP: `docs/sync.md`, Photos. */
export function photoPort(link: ServerLink, signal: AbortSignal): PhotoPort {
  const ask = (hash: string, init: RequestInit): Promise<Response> =>
    fetch(`${link.address}/sync/blobs/${hash}`, {
      ...plainly,
      ...init,
      headers: { ...bearer(link), ...init.headers },
      signal,
    });
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
