import { useRef, useState } from 'preact/hooks';
import { canonicalJson } from '../../../../shared/logbook/canonical.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';

/** The entry's canonical text, uncut: what its hash is taken over. It is written out when it is asked for. */
export function FullText({ kept }: { kept: Kept }) {
  const [open, setOpen] = useState(false);
  const [said, setSaid] = useState('');
  const box = useRef<HTMLPreElement>(null);
  const text = open ? canonicalJson(kept.entry) : '';
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setSaid('Copied.');
    } catch {
      // Without https the browser gives no clipboard to a page.
      getSelection()?.selectAllChildren(box.current!);
      setSaid('Selected. Copy it with the tablet’s own menu.');
    }
  };
  return (
    <details class="record-text" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>Full text, as its hash is taken over it</summary>
      {open && (
        <>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and the keyboard must reach that */}
          <section class="record-scroll" tabIndex={0} aria-label="Full text of the entry">
            <pre ref={box}>{text}</pre>
          </section>
          <div class="buttons">
            <button type="button" class="button" onClick={() => void copy()}>
              Copy, {text.length} characters
            </button>
          </div>
          <p class="small" role="status">
            {said}
          </p>
        </>
      )}
    </details>
  );
}
