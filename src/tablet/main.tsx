import { effect } from '@preact/signals';
import { render } from 'preact';
import './style/main.css';
import { App } from './app/app.tsx';
import { ReadingLog } from './app/reading-log.tsx';
import { loadPerson } from './app/session.ts';
import { loadSettings } from './app/settings.ts';
import { askForPersistence } from './app/storage-state.ts';
import { loadJudge, readingLog, startTablet, store } from './app/tablet.ts';
import { startClock } from './app/time.ts';
import { keepOffline } from './app/update-offer.tsx';

async function start(): Promise<void> {
  await loadSettings();
  const root = document.getElementById('app')!;
  const stop = effect(() => {
    if (readingLog.value) render(<ReadingLog {...readingLog.value} />, root);
  });
  await startTablet();
  stop();
  if (store.value) await loadPerson();
  startClock();
  render(<App />, root);
  await loadJudge();
  (await import('./app/due-watch.ts')).watchDueRounds();
  await keepOffline();
  await askForPersistence();
}

void start();
