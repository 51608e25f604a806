import { render } from 'preact';
import './style/main.css';
import { App } from './app/app.tsx';
import { loadPerson } from './app/session.ts';
import { loadSettings } from './app/settings.ts';
import { askForPersistence } from './app/storage-state.ts';
import { loadJudge, startTablet, store } from './app/tablet.ts';
import { startClock } from './app/time.ts';
import { keepOffline } from './app/update-offer.tsx';

async function start(): Promise<void> {
  await loadSettings();
  const root = document.getElementById('app')!;
  await startTablet();
  if (store.value) await loadPerson();
  startClock();
  render(<App />, root);
  await loadJudge();
  (await import('./screens/now/keep-now.ts')).keepNow();
  (await import('./app/due-watch.ts')).watchDueRounds();
  await keepOffline();
  await askForPersistence();
}

void start();
