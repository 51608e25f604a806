import { render } from 'preact';
import './style/main.css';
import { App } from './app/app.tsx';
import { loadPerson } from './app/session.ts';
import { loadSettings } from './app/settings.ts';
import { askForPersistence } from './app/storage-state.ts';
import { loadJudge, startTablet, store } from './app/tablet.ts';
import { startClock } from './app/time.ts';
import { keepOffline } from './app/update-offer.tsx';
import { loadAtOnce } from './screens/now/now.tsx';
import { inIdleTime } from './storage/in-idle-time.ts';

async function start(): Promise<void> {
  if (location.pathname === '/') void loadAtOnce();
  await Promise.all([loadSettings(), startTablet()]);
  if (store.value) await loadPerson();
  startClock();
  render(<App />, document.getElementById('app')!);
  // First the screen, and whatever is typed into it.
  await new Promise<void>((resolve) => inIdleTime(resolve));
  await loadJudge();
  (await import('./screens/now/keep-now.ts')).keepNow();
  (await import('./app/due-watch.ts')).watchDueRounds();
  (await import('./app/keep-in-sync.ts')).keepInSync();
  await keepOffline();
  await askForPersistence();
}

void start();
