import { findingId } from '../../logbook/state/findings.ts';
import type { PracticeEvent } from '../events.ts';
import { numbered, readingKey, type Site } from '../site.ts';
import { MINUTE_MS } from '../timetable.ts';

const rad = (degrees: number | undefined): number => ((degrees ?? 0) * Math.PI) / 180;
const LATE_STATION = '315';

/** Operations 1.1 to 1.3: the table turns true, stands level, and is driven and stopped. */
export function turntable(site: Site): PracticeEvent[] {
  return [...bearing(site), ...levelling(site), ...drive(site)];
}

function bearing(site: Site): PracticeEvent[] {
  const r = site.random('1.1');
  const [axialAt, radialAt] = [r.between(0, 360), r.between(0, 360)];
  const wave = (at: number) => (angle: number | undefined) =>
    0.034 + 0.022 * Math.cos(rad(angle) - rad(at)) + 0.005 * Math.cos(2 * rad(angle)) + 0.0012 * r.normal();
  const [axial, radial] = [wave(axialAt), wave(radialAt)];
  const operation = '1.1';
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.02, 0.95],
      words: { c4: 'Old grease dark, no metal in it.', c10: 'Tried at all twelve feet.' },
    }),
    ...site.pass({ operation, characteristic: 'table-axial-runout', at: 0.3, value: (s) => axial(s.angle_deg) }),
    ...site.pass({ operation, characteristic: 'table-radial-runout', at: 0.6, value: (s) => radial(s.angle_deg) }),
    ...site.pass({ operation, characteristic: 'bearing-closure', at: 0.75, value: () => r.between(0.003, 0.008) }),
    site.mark(operation, 'finished'),
  ];
}

function levelling(site: Site): PracticeEvent[] {
  const r = site.random('1.2');
  const operation = '1.2';
  const lowAt = r.between(0, 360);
  const late = readingKey(operation, 'table-level-repeat', LATE_STATION);
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, { at: [0.05, 0.96], words: { c6: 'Crane stood over the store; moved first.' } }),
    ...site.pass({
      operation,
      characteristic: 'table-level',
      at: 0.2,
      every_s: 780,
      value: (s) => 0.014 + 0.008 * Math.cos(rad(s.angle_deg) - rad(lowAt)) + 0.001 * r.normal(),
    }),
    ...site.pass({
      operation,
      characteristic: 'table-level-repeat',
      at: 0.66,
      every_s: 420,
      value: () => Math.abs(0.005 + 0.002 * r.normal()),
      late: { [LATE_STATION]: 370 },
      words: { [LATE_STATION]: 'Read before the shift ended, written when the tablet was free.' },
    }),
    ...site.pass({
      operation,
      characteristic: 'foundation-pins',
      at: 0.85,
      every_s: 300,
      value: () => 0.05 * r.normal(),
    }),
    site.mark(operation, 'finished'),
    site.write({
      tablet: 0,
      at: site.time.at(operation, 1) + 25 * MINUTE_MS,
      by: 'quality',
      kind: 'disposition',
      body: (known) => ({
        finding: findingId('late', [known.hashOf(late)]),
        operation,
        decision: 'concession',
        words: 'The pocket book has it with the time. Agrees with its neighbours.',
        limits: 'For this reading alone.',
        ...site.agreement(known, site.time.at(operation, 1), 'call', 'call note 3'),
        proposedBy: site.personId('lead'),
        name: known.view().standing.person(site.personId('quality'))!.name,
        role: 'quality',
      }),
    }),
  ];
}

function drive(site: Site): PracticeEvent[] {
  const r = site.random('1.3');
  const operation = '1.3';
  const late = { operation, by: 'lateTechnician', tablet: 1 } as const;
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.1, 0.92],
      by: 'lateTechnician',
      tablet: 1,
      words: { c7: 'Took over in 14 s, no trip.', c12: 'Display and watch agree to the last digit.' },
    }),
    ...site.pass({
      ...late,
      characteristic: 'stop-time',
      at: 0.2,
      every_s: 600,
      named: numbered('stop button', 5),
      value: () => r.between(40, 48),
    }),
    ...site.pass({
      ...late,
      characteristic: 'rate-stability',
      at: 0.45,
      every_s: 2400,
      value: () => r.between(0.0006, 0.0012),
    }),
    ...site.pass({
      ...late,
      characteristic: 'standby-changeover-time',
      at: 0.6,
      every_s: 900,
      value: () => r.between(13, 15),
    }),
    ...site.pass({
      ...late,
      characteristic: 'brush-length',
      at: 0.75,
      every_s: 90,
      named: numbered('brush', 8),
      value: () => r.between(24.4, 24.9),
    }),
    site.mark(operation, 'finished'),
  ];
}
