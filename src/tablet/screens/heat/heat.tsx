import { lazy, useRoute } from 'preact-iso';
import './heat.css';

const LoggerFiles = lazy(() => import('./logger-files.tsx').then((m) => m.LoggerFiles));
const HeatChart = lazy(() => import('./heat-chart.tsx').then((m) => m.HeatChart));

/** What belongs to all heats: the chart of the whole casting, logger files. */
export function HeatPlaces() {
  const { part } = useRoute().params;
  return part === 'chart' ? <HeatChart /> : <LoggerFiles />;
}
