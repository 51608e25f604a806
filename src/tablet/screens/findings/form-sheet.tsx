import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { Sheet } from '../../parts/sheet.tsx';

interface Props {
  readonly title: string;
  /** What is still to be said before it can be signed. */
  readonly ask: string | null;
  /** The words on the main button. */
  readonly done: string;
  readonly onDone: () => void;
  readonly onEnd: () => void;
  readonly children: ComponentChildren;
}

/** A form on a finding. It comes into view when it opens, and its buttons stay in sight. */
export function FormSheet({ title, ask, done, onDone, onEnd, children }: Props) {
  const form = useRef<HTMLDivElement>(null);
  useEffect(() => form.current?.closest('section')?.scrollIntoView(), []);
  return (
    <Sheet graduated title={title} class="finding-sheet">
      <div class="finding-form" ref={form}>
        {children}
        <div class="form-end">
          {ask && (
            <p class="finding-asked" role="alert">
              {ask}
            </p>
          )}
          <div class="buttons">
            <button type="button" class="button" onClick={onEnd}>
              Not now
            </button>
            <button type="button" class="button main" onClick={onDone}>
              {done}
            </button>
          </div>
        </div>
      </div>
    </Sheet>
  );
}
