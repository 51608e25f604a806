import { signal } from '@preact/signals';
import type { Signer } from '../../../shared/logbook/crypto.ts';
import { openSigner } from './session.ts';

export interface PinAsked {
  readonly person: string;
  readonly title: string;
  readonly keepOpen: boolean;
  readonly answer: (signer: Signer | null) => void;
}

/** What `pin-asker.tsx` stands for; null while nobody is asked. */
export const pinAsked = signal<PinAsked | null>(null);

/** Asks a person for their PIN. Null when they turn away. */
export function askPin(person: string, title: string, keepOpen = false): Promise<Signer | null> {
  return new Promise((answer) => {
    pinAsked.value = { person, title, keepOpen, answer };
  });
}

/** The person's signer: open since they took the tablet, or after their PIN now. */
export const signerOf = async (person: string, title: string): Promise<Signer | null> =>
  openSigner(person) ?? (await askPin(person, title, true));
