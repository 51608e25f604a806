import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { annealHeats } from '../../../../shared/furnace/anneal.ts';
import { isTemperature } from '../../../../shared/logbook/state/channels.ts';
import { loggerFiles } from '../../../../shared/logbook/state/logger-files.ts';
import type { Heat } from '../../../../shared/logbook/state/rounds.ts';
import type { Logged } from '../../../../shared/logbook/state/samples.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { openStore } from '../../app/tablet.ts';
import { samplesId } from '../../storage/logger/kept-files.ts';
import { watchLogged } from '../../storage/logger/logged-samples.ts';

/** What a sheet of live figures is given. */
export interface SampledProps {
  readonly view: View;
  readonly heat: Heat;
  readonly now_ms: number;
  readonly logged: Logged | null;
}

/** What loggers recorded of a heat, and of those of the anneal before it; null where nothing of it lies here. */
export function useLogged(view: View, heat: Heat): Logged | null {
  const { db } = openStore();
  const shown = useSignal<{ asked: string; logged: Logged } | null>(null);
  const from_ms = annealHeats(view, heat)[0]!.start_ms;
  const ids = loggerFiles(view)
    .filter(({ body }) => Date.parse(body.to) >= from_ms)
    .map(({ body }) => samplesId(body.file.hash, body.mapping));
  const asked = `${from_ms} ${ids.join()}`;
  useEffect(() => {
    const channels = view.plan.channels.filter((c) => isTemperature(c)).map((c) => c.id);
    const to_ms = heat.ended_ms ?? Date.now();
    const watch = watchLogged(db, ids, channels, { from_ms, to_ms }).subscribe({
      next: (logged) => {
        shown.value = logged.samples.length > 0 ? { asked, logged } : null;
      },
      error: (error: unknown) => console.error('Samples of loggers could not be read', error),
    });
    return () => watch.unsubscribe();
  }, [asked]);
  return shown.value?.asked === asked ? shown.value.logged : null;
}
