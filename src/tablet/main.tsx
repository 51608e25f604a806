import { render } from 'preact';
import './style/main.css';
import { App, loadChart } from './app/app.tsx';
import { expectPerson, loadPerson } from './app/session.ts';
import { expectSettings, followSettings, loadSettings } from './app/settings.ts';
import { askForPersistence, watchRoom } from './app/storage-state.ts';
import { CHART, loadJudge, openAhead, startTablet, store } from './app/tablet.ts';
import { startClock } from './app/time.ts';
import { keepOffline } from './app/update-offer.tsx';
import { loadAround, loadAtOnce } from './screens/now/now.tsx';
import { inIdleTime } from './storage/in-idle-time.ts';
import { chartIsUsed } from './storage/kept-chart.ts';

function show(): void {
  followSettings();
  render(<App />, document.getElementById('app')!);
}

/** What the first frame at a place is drawn with, loaded beside what it is drawn from. */
function partsOf(path: string, early: boolean): Promise<unknown> | null {
  if (path === '/') return Promise.all([loadAtOnce(), early ? null : loadAround()]);
  return path === CHART ? loadChart() : null;
}

async function start(): Promise<void> {
  const frame = openAhead();
  const parts = partsOf(location.pathname, frame !== null);
  const loading = Promise.all([loadSettings(), startTablet()]);
  if (frame) {
    expectPerson(frame.person);
    expectSettings(frame);
    await parts;
    show();
  }
  await loading;
  if (store.value) await loadPerson();
  startClock();
  if (!frame) {
    await parts;
    show();
  }
  // First the screen, and whatever is typed into it.
  await new Promise<void>((resolve) => inIdleTime(resolve));
  await loadJudge();
  (await import('./screens/now/keep-now.ts')).keepNow();
  if (chartIsUsed()) (await import('./screens/heat/chart/keep-chart.ts')).keepChart();
  (await import('./app/in-background.ts')).workInBackground();
  await keepOffline();
  await askForPersistence();
  watchRoom();
}

void start();
