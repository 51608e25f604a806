import { signal } from '@preact/signals';

const waiting = signal<(() => void) | null>(null);
const openEntries = signal(0);

/** A screen with something typed and not saved holds an update back. Returns the function that lets go. */
export function holdUpdates(): () => void {
  openEntries.value += 1;
  let held = true;
  return () => {
    if (held) openEntries.value -= 1;
    held = false;
  };
}

/** Registers the worker that keeps the app on the tablet. A newer version is offered, never applied by itself. */
export async function keepOffline(): Promise<void> {
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return;
  const { Workbox } = await import('workbox-window');
  const worker = new Workbox('/sw.js');
  worker.addEventListener('waiting', () => {
    waiting.value = () => {
      worker.addEventListener('controlling', () => window.location.reload());
      worker.messageSkipWaiting();
    };
  });
  await worker.register();
}

/** Offers a newer version while nothing typed is unsaved. */
export function UpdateOffer() {
  if (!waiting.value) return null;
  const busy = openEntries.value > 0;
  return (
    <aside class="update-offer" aria-label="New version">
      <p>
        {busy
          ? 'A new version is here. It waits until what you typed is saved.'
          : 'A new version is here. Entries stay as they are.'}
      </p>
      {!busy && (
        <button type="button" class="button" onClick={() => waiting.value?.()}>
          Use it now
        </button>
      )}
    </aside>
  );
}
