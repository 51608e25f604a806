import { lazy, useRoute } from 'preact-iso';
import './heat.css';

const LoggerFiles = lazy(() => import('./logger-files.tsx').then((m) => m.LoggerFiles));
const HeatChart = lazy(() => import('./heat-chart.tsx').then((m) => m.HeatChart));

const ChannelScreen = lazy(() => import('./channel.tsx').then((m) => m.ChannelScreen));

/** What belongs to all heats: the chart of the whole casting, logger files, channels. */
export function HeatPlaces() {
  const { part } = useRoute().params;
  if (part === 'chart') return <HeatChart />;
  return part === 'channel' ? <ChannelScreen /> : <LoggerFiles />;
}
