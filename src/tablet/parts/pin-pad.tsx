import { useId, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { Keypad } from './keypad.tsx';
import { Overlay } from './overlay.tsx';
import './pin-pad.css';

const LEAST = 4;
const MOST = 8;

export type PinPadProps = {
  /** What the PIN is for: "Sign H6 Mould ready for glass". */
  title: string;
  /** Whose PIN: printed name and role. */
  who: string;
  /** Called with 4 to 8 digits; the dots are cleared, the error stays until the caller changes it. */
  onPin: (pin: string) => void;
  onClose: () => void;
  error?: string | undefined;
  /** The PIN is being checked: keys wait. */
  busy?: boolean | undefined;
  enterLabel?: string | undefined;
  mirrored?: boolean | undefined;
};

/** Asks for a PIN of 4 to 8 digits. Digits are never shown or kept in the page; the field holds dots only. */
export function PinPad({ title, who, onPin, onClose, error, busy, enterLabel = 'Sign', mirrored }: PinPadProps) {
  const [pin, setPin] = useState('');
  const [short, setShort] = useState(false);
  const field = useRef<HTMLInputElement>(null);
  const errorId = useId();
  // With the dialog: a first digit, or Enter, would else fall on its Cancel.
  useLayoutEffect(() => field.current?.focus(), []);

  const press = (key: string) => {
    if (busy) return;
    setShort(false);
    // A tap on a key must not take the hardware keyboard away.
    field.current?.focus();
    setPin((typed) => (key === 'rub' ? typed.slice(0, -1) : `${typed}${key}`.slice(0, MOST)));
  };
  const enter = () => {
    if (busy) return;
    if (pin.length < LEAST) return setShort(true);
    setPin('');
    onPin(pin);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (/^\d$/.test(event.key)) press(event.key);
    else if (event.key === 'Backspace') press('rub');
    else if (event.key === 'Enter') enter();
    else return;
    event.preventDefault();
  };
  const said = short ? `A PIN has at least ${LEAST} digits.` : busy ? 'Checking the PIN' : error;
  return (
    <Overlay title={title} onClose={onClose} closeLabel="Cancel">
      <label class="labelled">
        <span>{`PIN of ${who}`}</span>
        <input
          ref={field}
          class="pin-field"
          value={'●'.repeat(pin.length)}
          onKeyDown={onKeyDown}
          readOnly
          inputMode="none"
          aria-describedby={errorId}
        />
      </label>
      <p id={errorId} class={`pin-said ${error && !busy ? 'outside' : 'dim'}`} role="status">
        {said}
      </p>
      <Keypad digitsOnly onKey={press} onEnter={enter} enterLabel={enterLabel} mirrored={mirrored} />
    </Overlay>
  );
}
