import { render } from 'preact';
import './style/main.css';
import { App } from './app/app.tsx';
import { loadPerson } from './app/session.ts';
import { loadSettings } from './app/settings.ts';
import { askForPersistence, watchOutbox } from './app/storage-state.ts';
import { loadJudge, startTablet, store } from './app/tablet.ts';
import { startClock } from './app/time.ts';
import { keepOffline } from './app/update-offer.tsx';

async function start(): Promise<void> {
  await loadSettings();
  await startTablet();
  if (store.value) await loadPerson();
  startClock();
  watchOutbox();
  render(<App />, document.getElementById('app')!);
  await loadJudge();
  await keepOffline();
  await askForPersistence();
}

void start();
