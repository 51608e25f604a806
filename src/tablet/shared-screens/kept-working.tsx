import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Kept } from '../../../shared/logbook/log.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import type { DerivedPlace } from './derived-working.tsx';

/** A working comes with its calculations when it is first shown. */
function later<Props extends object>(load: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  return function Later(props: Props) {
    const [part, setPart] = useState<{ readonly Part: ComponentType<Props> } | 'failed' | null>(null);
    useEffect(() => {
      let wanted = true;
      load().then(
        (Part) => wanted && setPart({ Part }),
        () => wanted && setPart('failed'),
      );
      return () => {
        wanted = false;
      };
    }, []);
    if (part === null) return <p class="dim">Working it out</p>;
    if (part === 'failed')
      return <p class="outside">The working could not be loaded. Reload the app and look again.</p>;
    return <part.Part {...props} />;
  };
}

/** The working of a reading in the record. */
export const KeptWorking = later<{ view: View; reading: Kept<'reading'> }>(() =>
  import('./reading-working.tsx').then((m) => m.KeptWorking),
);

/** The working of a value that follows from readings. */
export const DerivedWorking = later<DerivedPlace & { view: View }>(() =>
  import('./derived-working.tsx').then((m) => m.DerivedWorking),
);
