import type { ComponentChildren } from 'preact';
import type { Key } from './apply-key.ts';
import './keypad.css';

export type KeypadProps = {
  onKey: (key: Key) => void;
  onEnter: () => void;
  enterLabel?: string | undefined;
  /** Where Enter goes: "to 120°". */
  enterTarget?: string | undefined;
  /** A key of the screen's own: "Repeat reading", "Channel dead". */
  extraLabel?: string | undefined;
  onExtra?: (() => void) | undefined;
  /** For the left hand: Enter's column stands on the left. */
  mirrored?: boolean | undefined;
  decimalMark?: '.' | ',' | undefined;
  /** The characteristic cannot be below nothing: no ± key is offered. */
  unsigned?: boolean | undefined;
  /** For a PIN: neither decimal mark nor sign. */
  digitsOnly?: boolean | undefined;
};

const DIGITS: Key[] = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '0'];

/** Keys must not take the focus from the field, so that a gauge goes on typing into it. */
const keepFocus = (event: Event) => event.preventDefault();

/** The keypad: digits on three columns, and rub out, the extra key and Enter under the thumb. */
export function Keypad(props: KeypadProps) {
  const {
    onKey,
    onEnter,
    enterLabel = 'Enter',
    enterTarget,
    extraLabel,
    onExtra,
    decimalMark = '.',
    digitsOnly,
  } = props;
  const key = (value: Key, area: string, label: ComponentChildren, name?: string) => (
    <button
      key={value}
      type="button"
      class={area}
      aria-label={name}
      onMouseDown={keepFocus}
      onClick={() => onKey(value)}
    >
      {label}
    </button>
  );
  const classes = [
    'keypad',
    props.mirrored && 'mirrored',
    !extraLabel && 'no-extra',
    props.unsigned && 'no-sign',
    digitsOnly && 'digits-only',
  ];
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would bring a form's meaning and cannot be a grid everywhere
    <div class={classes.filter(Boolean).join(' ')} role="group" aria-label="Keypad">
      {DIGITS.map((digit) => key(digit, `key-${digit}`, digit))}
      {!digitsOnly && key('mark', 'key-mark', decimalMark, 'decimal mark')}
      {!digitsOnly && !props.unsigned && key('sign', 'key-sign key-side', '±', 'turn the sign')}
      {key('rub', 'key-rub key-word', 'Rub out')}
      {extraLabel && (
        <button type="button" class="key-extra key-word" onMouseDown={keepFocus} onClick={onExtra}>
          {extraLabel}
        </button>
      )}
      <button type="button" class="key-enter" onMouseDown={keepFocus} onClick={onEnter}>
        {enterLabel}
        {enterTarget && <small>{enterTarget}</small>}
      </button>
    </div>
  );
}
