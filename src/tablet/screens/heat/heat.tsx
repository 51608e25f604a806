import { lazy, useRoute } from 'preact-iso';
import './heat.css';

const LoggerFiles = lazy(() => import('./logger-files.tsx').then((m) => m.LoggerFiles));

/** What belongs to the heats besides the one that runs: logger files, the chart of the whole casting, channels, plans. */
export function HeatPlaces() {
  useRoute();
  return <LoggerFiles />;
}
