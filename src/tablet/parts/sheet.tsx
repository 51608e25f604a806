import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import './sheet.css';

export type SheetProps = {
  title?: ComponentChildren;
  /** Stands small beside the title. */
  beside?: ComponentChildren;
  /** Stands at the right end of the header. */
  aside?: ComponentChildren;
  /** The engraved edge: only on the one sheet of a screen that wants the hand. */
  graduated?: boolean | undefined;
  /** Names the sheet where it has no title. */
  label?: string | undefined;
  class?: string | undefined;
  children?: ComponentChildren;
};

/** A sheet laid on the paper: a hairline frame and a header, nothing raised. */
export function Sheet({ title, beside, aside, graduated, label, class: extra = '', children }: SheetProps) {
  const id = useId();
  return (
    <section
      class={`sheet ${graduated ? 'graduated' : ''} ${extra}`}
      aria-label={label}
      aria-labelledby={title ? id : undefined}
    >
      {(title || aside) && (
        <header>
          {title && <h2 id={id}>{title}</h2>}
          {beside && <span class="small dim">{beside}</span>}
          {aside && <span class="sheet-aside">{aside}</span>}
        </header>
      )}
      {children}
    </section>
  );
}
