import { readBatch } from '../../../shared/sync/batch.ts';
import type { ProvenLine } from '../../../shared/sync/file-batch.ts';
import { PageReader } from './page-reader.ts';
import { askServer, type ServerLink } from './server-requests.ts';
import { MOST_TAKEN } from './sync-driver.ts';

export interface FirstPages {
  readonly lines: readonly ProvenLine[];
  /** How far the server's arrivals were looked at, and how many there are. */
  readonly cursor: number;
  readonly count: number;
}

/**
 * The oldest entries of a casting, up to its first plan: as much as a tablet needs to open it. What is not sound is left
 * out; sync asks for it again.
 */
export async function firstPages(
  link: ServerLink,
  casting: string,
): Promise<FirstPages | { readonly refused: string }> {
  const lines: ProvenLine[] = [];
  for (let cursor = 0; ; ) {
    const what = { to: 'pull', after: cursor, without: null } as const;
    const answer = await askServer(link, what, new AbortController().signal).catch(() => null);
    if (answer?.of === 'refusal') return { refused: answer.code };
    if (answer?.of !== 'pull') return { refused: 'no-answer' };
    const page = new PageReader();
    const batch = readBatch(answer.text, casting, MOST_TAKEN, page.read);
    if ('code' in batch) return { refused: batch.code };
    lines.push(...(await page.proven(batch.entries)));
    const hasPlan = lines.some((l) => l.entry.kind === 'plan');
    if (hasPlan || answer.last >= answer.count || answer.last <= cursor)
      return { lines, cursor: answer.last, count: answer.count };
    cursor = answer.last;
  }
}
