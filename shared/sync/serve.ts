import { type Refused, readBatch, refused, writeBatch } from './batch.ts';
import type { Page, PageWanted, ReadEntry, ServerStore } from './port.ts';

/** What the server takes of one batch. */
export interface PushLimits {
  readonly mostEntries: number;
}

/** Keeps a batch whole, or refuses it whole; acknowledged once the store has it for good. */
export async function servePush(
  store: ServerStore,
  casting: string,
  text: string,
  { mostEntries }: PushLimits,
  read: ReadEntry,
): Promise<{ readonly added: number } | Refused> {
  const batch = readBatch(text, casting, mostEntries, read);
  if ('code' in batch) return batch;
  const [fault] = batch.faults;
  if (fault)
    return refused(fault.code, fault.device === null ? fault.details : { ...fault.details, device: fault.device });
  const kept = await store.append(casting, batch.entries);
  return 'gap' in kept ? refused('gap', { device: kept.gap.device, seq: kept.gap.seq }) : kept;
}

/** What arrived after the first so many, as the text of a batch. */
export async function servePull(
  store: ServerStore,
  casting: string,
  wanted: PageWanted,
): Promise<Pick<Page, 'last' | 'count'> & { readonly text: string }> {
  const { entries, last, count } = await store.arrivedAfter(casting, wanted);
  return { text: writeBatch(entries), last, count };
}
