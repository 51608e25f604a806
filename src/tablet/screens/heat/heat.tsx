import { lazy, useRoute } from 'preact-iso';
import './heat.css';

const LoggerFiles = lazy(() => import('./logger-files.tsx').then((m) => m.LoggerFiles));

const ChannelScreen = lazy(() => import('./channel.tsx').then((m) => m.ChannelScreen));
const HeatPlanScreen = lazy(() => import('./heat-plan.tsx').then((m) => m.HeatPlanScreen));

/** What belongs to all heats: logger files, channels, plans. */
export function HeatPlaces() {
  const { part } = useRoute().params;
  if (part === 'plan') return <HeatPlanScreen />;
  return part === 'channel' ? <ChannelScreen /> : <LoggerFiles />;
}
