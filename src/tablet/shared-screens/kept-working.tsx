import { useEffect, useState } from 'preact/hooks';
import type { Body } from '../../../shared/logbook/kinds.ts';
import type { View } from '../../../shared/logbook/state/view.ts';

type Part = { readonly KeptWorking: typeof import('./reading-working.tsx')['KeptWorking'] };

/** The working of a reading in the record; the calculations come when it is first shown. */
export function KeptWorking({ view, body }: { view: View; body: Body<'reading'> }) {
  const [part, setPart] = useState<Part | 'failed' | null>(null);
  useEffect(() => {
    let wanted = true;
    import('./reading-working.tsx').then(
      (found) => wanted && setPart(found),
      () => wanted && setPart('failed'),
    );
    return () => {
      wanted = false;
    };
  }, []);
  if (part === null) return <p class="dim">Working it out</p>;
  if (part === 'failed') return <p class="outside">The working could not be loaded. Reload the app and look again.</p>;
  return <part.KeptWorking view={view} body={body} />;
}
