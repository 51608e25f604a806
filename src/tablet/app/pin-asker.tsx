import { signal } from '@preact/signals';
import type { Signer } from '../../../shared/logbook/crypto.ts';
import { PinPad } from '../parts/pin-pad.tsx';
import { pinAsked } from './ask-pin.ts';
import { enterPin } from './enter-pin.ts';
import { settings } from './settings.ts';
import { openView } from './tablet.ts';
import { roleName } from './words.ts';

const error = signal<string | undefined>(undefined);
const busy = signal(false);

function end(signer: Signer | null): void {
  error.value = undefined;
  pinAsked.value?.answer(signer);
  pinAsked.value = null;
}

async function tryPin(pin: string): Promise<void> {
  const { person, keepOpen } = pinAsked.value!;
  busy.value = true;
  const answer = await enterPin(person, pin, keepOpen);
  busy.value = false;
  if ('signer' in answer) end(answer.signer);
  else error.value = answer.error;
}

/** Stands once in the app, over whatever screen asks. */
export function PinAsker() {
  if (!pinAsked.value) return null;
  const { person, title } = pinAsked.value;
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
