import { useState } from 'preact/hooks';
import { settings } from '../../app/settings.ts';
import { PinPad } from '../../parts/pin-pad.tsx';

export type ChoosePinProps = {
  /** Whose PIN: their name. */
  who: string;
  onPin: (pin: string) => void;
  onClose: () => void;
};

/** What a PIN guards against: stands wherever one is chosen. */
export const PIN_WORDS =
  'A PIN has 4 to 8 digits. It guards against a colleague’s tap, not against a thief with the tablet.';

/** Asks for a new PIN twice. It is never shown, and kept by nobody: the caller makes a key with it. */
export function ChoosePin({ who, onPin, onClose }: ChoosePinProps) {
  const [first, setFirst] = useState<string | null>(null);
  const [error, setError] = useState<string>();
  const take = (pin: string) => {
    setError(undefined);
    if (first === null) return setFirst(pin);
    if (pin === first) return onPin(pin);
    setFirst(null);
    setError('The two were not the same. Choose a PIN again.');
  };
  return (
    <PinPad
      title={first === null ? `${who} chooses a PIN` : 'The same PIN again'}
      who={first === null ? `${who}: 4 to 8 digits` : `${who}, once more`}
      onPin={take}
      onClose={onClose}
      error={error}
      enterLabel={first === null ? 'Next' : 'Keep'}
      mirrored={settings.value.hand === 'left'}
    />
  );
}
