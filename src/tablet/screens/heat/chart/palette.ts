/** The colours of a chart, read from the tokens of the look as they hold now. */
export interface Palette {
  readonly ink: string;
  readonly label: string;
  readonly grid: string;
  readonly line: string;
  readonly band: string;
  readonly index: string;
  readonly outside: string;
  readonly sheet: string;
  readonly pens: readonly string[];
}

export function palette(of: Element): Palette {
  const style = getComputedStyle(of);
  const token = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: token('ink'),
    label: token('ink-2'),
    grid: token('grid'),
    line: token('line'),
    band: token('band'),
    index: token('index'),
    outside: token('outside'),
    sheet: token('sheet'),
    pens: [1, 2, 3, 4, 5].map((n) => token(`pen-${n}`)),
  };
}

/** Tells when the colours change: the theme by hand, the tablet's own, or for paper. */
export function onPaletteChange(changed: () => void): () => void {
  const queries = ['(prefers-color-scheme: dark)', 'print'].map((query) => matchMedia(query));
  for (const query of queries) query.addEventListener('change', changed);
  const observer = new MutationObserver(changed);
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
  return () => {
    for (const query of queries) query.removeEventListener('change', changed);
    observer.disconnect();
  };
}
