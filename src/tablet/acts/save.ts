import type { Signer } from '../../../shared/logbook/crypto.ts';
import type { Body, Kind } from '../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../shared/logbook/log.ts';
import { saveFailure } from '../app/save-failure.ts';
import { recorder } from '../app/session.ts';
import { storeOpened } from '../app/tablet.ts';
import { isoWithOffset } from '../app/time.ts';
import type { SignedAct } from '../storage/casting-store.ts';

/** When and by whom an act was done, where it is not now and not the person at the tablet. */
export interface Circumstances {
  readonly observedAt?: string;
  readonly by?: string;
  readonly signer?: Signer;
}

/** An act of the person at the tablet, now. */
export function act<K extends Kind>(kind: K, body: Body<K>, { observedAt, by, signer }: Circumstances = {}): SignedAct {
  const recordedAt = isoWithOffset();
  return {
    kind,
    body,
    by: by ?? recorder().id,
    observedAt: observedAt ?? recordedAt,
    recordedAt,
    ...(signer ? { signer } : {}),
  };
}

/**
 * Saves acts, all or none; resolves when they are kept.
 * @throws {Error} when the tablet could not keep them; the person has been told.
 */
export async function save(...acts: SignedAct[]): Promise<Kept[]> {
  try {
    return await (await storeOpened()).save(acts);
  } catch (error) {
    saveFailure.value = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    throw error;
  }
}
