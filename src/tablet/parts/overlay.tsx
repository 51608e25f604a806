import type { ComponentChildren } from 'preact';
import { useId, useLayoutEffect, useRef } from 'preact/hooks';
import './overlay.css';

export type OverlayProps = {
  title: ComponentChildren;
  /** Escape, the close button and a tap on the ground all ask to close; the caller takes the overlay away. */
  onClose: () => void;
  closeLabel?: string | undefined;
  class?: string | undefined;
  children: ComponentChildren;
};

/**
 * Rises from the lower edge over a darkened ground. A modal dialog: the page behind it is inert, the focus stays
 * inside and goes back to where it was.
 */
export function Overlay({ title, onClose, closeLabel = 'Close', class: extra = '', children }: OverlayProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  // At once, not after the paint: whoever asks for a field inside, or types on, finds it open.
  useLayoutEffect(() => {
    const opened = dialog.current;
    opened?.showModal();
    return () => opened?.close();
  }, []);
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: Escape is the key; the dialog hears it as `cancel`
    <dialog
      ref={dialog}
      class={`overlay ${extra}`}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClick={(event) => {
        if (event.target === event.currentTarget) onClose();
      }}
    >
      <div class="overlay-sheet">
        <header>
          <h2 id={id}>{title}</h2>
          <button type="button" class="button" onClick={onClose}>
            {closeLabel}
          </button>
        </header>
        <div class="overlay-body">{children}</div>
      </div>
    </dialog>
  );
}
