import type { PracticeEvent } from '../events.ts';
import { numbered, type Site } from '../site.ts';
import { HOUR_MS, MINUTE_MS } from '../timetable.ts';

/** The input that was read on its neighbour, and put right on the tablet that then lay uncharged. */
const MIXED_UP_INPUT = 'CR-3@middle';

/** Operations 3.1 to 3.3: furnace, channels and test spin. H02 is signed before all that was written is at hand. */
export function furnace(site: Site): PracticeEvent[] {
  return [...shell(site), ...channels(site), ...spin(site)];
}

function shell(site: Site): PracticeEvent[] {
  const r = site.random('3.1');
  const operation = '3.1';
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.2, 0.97],
      words: { c9: 'Shutter of the 210° port freed.', c14: '41 in, 41 out.' },
    }),
    ...site.pass({
      operation,
      by: 'lateTechnician',
      tablet: 1,
      characteristic: 'heater-resistance',
      at: 0.4,
      every_s: 120,
      named: numbered('heater', 30),
      value: () => 1.1 * r.normal(),
    }),
    ...site.pass({
      operation,
      characteristic: 'insulation-resistance',
      at: 0.6,
      every_s: 300,
      value: () => r.between(6, 40),
    }),
    ...site.pass({
      operation,
      characteristic: 'seal-gap',
      at: 0.82,
      every_s: 60,
      value: () => 0.1 * Math.round(r.between(1, 5)),
    }),
    ...site.pass({ operation, characteristic: 'tool-count', at: 0.96, value: () => 0 }),
    site.mark(operation, 'finished'),
  ];
}

function channels(site: Site): PracticeEvent[] {
  const r = site.random('3.2');
  const operation = '3.2';
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.2, 0.97],
      words: { c12: 'Six spare pairs, labelled SP-1 to SP-6.' },
    }),
    ...site.pass({
      operation,
      characteristic: 'insertion-depth',
      at: 0.3,
      every_s: 90,
      value: () => Math.round(1.1 * r.normal()),
    }),
    ...site.pass({
      operation,
      by: 'lateTechnician',
      tablet: 1,
      characteristic: 'loop-injection-error',
      at: 0.5,
      every_s: 35,
      value: (s) => (s.id === MIXED_UP_INPUT ? -0.21 : 0.11 * r.normal()),
    }),
    ...site.pass({
      operation,
      characteristic: 'reference-junction-error',
      at: 0.8,
      every_s: 240,
      value: () => 0.06 * r.normal(),
    }),
    ...site.pass({
      operation,
      characteristic: 'channel-cold-agreement',
      at: 0.86,
      every_s: 45,
      value: () => 0.3 * r.normal(),
      late: { 'FC-6': 285 },
      words: { 'FC-6': 'Read with the others; forgotten on the tablet.' },
    }),
    site.mark(operation, 'finished'),
  ];
}

function spin(site: Site): PracticeEvent[] {
  const r = site.random('3.3');
  const operation = '3.3';
  const end = site.time.at(operation, 1);
  const axialAt = r.between(0, 2 * Math.PI);
  return [
    site.witness('W02', 'told', 'lead', site.time.at(operation, 0) - 7 * 24 * HOUR_MS, 'By telephone.'),
    // The last evening on which the furnace tablet was brought back.
    { tablet: 0, at: site.time.at(operation, 0) - 30 * MINUTE_MS, kind: 'merge' },
    { tablet: 1, at: site.time.at(operation, 0) - 29 * MINUTE_MS, kind: 'merge' },
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.1, 0.96],
      words: { c7: '9.3290, 9.3293, 9.3291 rpm.', c11: 'Warm to the hand.' },
    }),
    ...site.pass({
      operation,
      characteristic: 'spin-rate',
      at: 0.35,
      value: () => 9.3291 + 0.0003 * r.normal(),
      words: { one: 'Both drives, mean of three times 100 turns.' },
    }),
    site.witness('W02', 'attended', 'customer', site.time.at(operation, 0.4), 'Timed 100 turns with own watch.'),
    ...site.pass({ operation, characteristic: 'spin-rate-change', at: 0.45, value: () => r.between(-0.001, 0.001) }),
    ...site.again({
      operation: '3.2',
      characteristic: 'loop-injection-error',
      station: MIXED_UP_INPUT,
      moment: site.time.at(operation, 0.5),
      by: 'lateTechnician',
      tablet: 1,
      value: () => 0.17,
      words: 'Injected again at CR-3 itself.',
      strike: {
        reason: 'written for another core or channel',
        words: 'The clamp sat on CR-4 when this was read.',
      },
    }),
    ...site.pass({
      operation,
      characteristic: 'bearing-vibration',
      at: 0.55,
      every_s: 120,
      value: () => r.between(0.4, 0.7),
    }),
    ...site.pass({
      operation,
      characteristic: 'bearing-temperature',
      at: 0.6,
      every_s: 90,
      value: () => r.between(30, 34),
    }),
    ...site.pass({
      operation,
      characteristic: 'slip-ring-temperature',
      at: 0.65,
      every_s: 90,
      value: () => r.between(36, 40),
    }),
    ...site.pass({ operation, characteristic: 'data-gaps', at: 0.78, value: () => 0 }),
    ...site.pass({
      operation,
      characteristic: 'table-axial-runout',
      at: 0.84,
      value: (s) => 0.034 + 0.02 * Math.cos(((s.angle_deg ?? 0) * Math.PI) / 180 - axialAt) + 0.0012 * r.normal(),
    }),
    site.mark(operation, 'finished'),
    site.state(
      'H02',
      'key-rounds',
      'engineer',
      end + 10 * MINUTE_MS,
      'Seventeen, all there, on the sheet in the folder.',
    ),
    site.state('H02', 'cut-out-proof', 'engineer', end + 12 * MINUTE_MS, 'Tripped at 1205 °C injected, twice.'),
    ...site.sign(
      'H02',
      [
        ['engineer', 'process-engineer'],
        ['quality', 'quality'],
      ],
      end + 20 * MINUTE_MS,
    ),
  ];
}
