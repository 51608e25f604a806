import type { GateState } from '../gate.tsx';
import type { Place } from '../rail.tsx';
import type { SpineProps, Stage } from '../spine.tsx';
import type { StateLineProps } from '../state-line.tsx';
import type { TitleBlockProps } from '../title-block.tsx';

/** Made-up surroundings for the gallery. */
export const PLACES: Place[] = [
  { href: '#now', label: 'Now', icon: 'now' },
  { href: '#sequence', label: 'Sequence', icon: 'sequence', underTitle: true, count: 1, countOf: 'in doubt' },
  { href: '#survey', label: 'Survey', icon: 'survey', current: true },
  { href: '#furnace', label: 'Furnace', icon: 'furnace', count: 12, countOf: 'findings' },
  { href: '#glass', label: 'Glass', icon: 'glass' },
  { href: '#handover', label: 'Handover', icon: 'handover' },
  { href: '#record', label: 'Record', icon: 'record', underTitle: true },
  { href: '#setup', label: 'Setup', icon: 'setup', underTitle: true },
];

export const LONG_WAIT: StateLineProps = { waiting: 1204, since: '21:40 on day 63', late: true };

export const TITLE: Omit<TitleBlockProps, 'places'> = {
  screen: 'Survey',
  operation: 'Tub inner diameters after preheat',
  detail: 'Operation 5.2 · plan revision C · pass 1',
  practice: true,
  person: { name: 'Tomas O.', role: 'technician · day shift' },
  state: { waiting: 23, since: '09:10 today', late: false },
  clock: { time: '14:32', day: 'day 66' },
};

const stage = (name: string, operations: number, done: number, gate?: GateState): Stage => ({
  name,
  operations,
  done,
  gates: gate ? [{ at: 1, state: gate, name: `after ${name}` }] : [],
});

export const SPINE: SpineProps = {
  href: '#sequence',
  now: 4,
  stages: [
    stage('Turntable', 3, 3),
    stage('Tub', 6, 6, 'released'),
    stage('Test spin', 4, 4, 'in-doubt'),
    stage('Preheat', 5, 5),
    stage('Tub survey', 5, 2, 'ready'),
    { ...stage('Cores', 6, 0, 'open'), ahead: 2 },
    stage('Core bake', 4, 0, 'not-reached'),
    stage('Loading', 5, 0, 'not-reached'),
    stage('Firing', 3, 0),
    stage('Melt', 4, 0, 'not-reached'),
    stage('Anneal', 3, 0),
    stage('Opening', 6, 0, 'not-reached'),
    stage('Clean-out', 4, 0),
    stage('Release', 5, 0, 'not-reached'),
  ],
};
