import { signal } from '@preact/signals';
import { lazy } from 'preact-iso';
import type { Signer } from '../../../shared/logbook/crypto.ts';
import { enterPin, openSigner } from './session.ts';
import { settings } from './settings.ts';
import { openView } from './tablet.ts';
import { roleName } from './words.ts';

const PinPad = lazy(() => import('../parts/pin-pad.tsx').then((m) => m.PinPad));

interface Asking {
  readonly person: string;
  readonly title: string;
  readonly keepOpen: boolean;
  readonly answer: (signer: Signer | null) => void;
}

const asking = signal<Asking | null>(null);
const error = signal<string | undefined>(undefined);
const busy = signal(false);

/** Asks a person for their PIN. Null when they turn away. */
export function askPin(person: string, title: string, keepOpen = false): Promise<Signer | null> {
  error.value = undefined;
  return new Promise((answer) => {
    asking.value = { person, title, keepOpen, answer };
  });
}

/** The person's signer: open since they took the tablet, or after their PIN now. */
export const signerOf = async (person: string, title: string): Promise<Signer | null> =>
  openSigner(person) ?? (await askPin(person, title, true));

function end(signer: Signer | null): void {
  asking.value?.answer(signer);
  asking.value = null;
}

async function tryPin(pin: string): Promise<void> {
  const { person, keepOpen } = asking.value!;
  busy.value = true;
  const answer = await enterPin(person, pin, keepOpen);
  busy.value = false;
  if ('signer' in answer) end(answer.signer);
  else error.value = answer.error;
}

/** Stands once in the app, over whatever screen asks. */
export function PinAsker() {
  if (!asking.value) return null;
  const { person, title } = asking.value;
  const known = openView().standing.person(person);
  return (
    <PinPad
      title={title}
      who={known ? `${known.name}, ${known.roles.map(roleName).join(', ')}` : 'somebody not admitted'}
      onPin={(pin) => void tryPin(pin)}
      onClose={() => end(null)}
      error={error.value}
      busy={busy.value}
      mirrored={settings.value.hand === 'left'}
    />
  );
}
