import { findingId } from '../../logbook/state/findings.ts';
import type { Station } from '../../plan/schema.ts';
import type { PracticeEvent } from '../events.ts';
import { numbered, type Site } from '../site.ts';
import { HOUR_MS, MINUTE_MS } from '../timetable.ts';
import { diameterOff, floorShape, tubShape } from '../tub-shape.ts';

/** The joint that was first laid too high. */
const HIGH_JOINT = 'joint 17';
const JOINTS = 40;
/** Paper was at hand where the tablet was not. */
const PAPER_STAVE = 'stave-24';
/** The rod that was read before the last stave stood. */
const EARLY_ROD = 'B1-R1';

/** Operations 2.1 to 2.4: floor, wall and bands of the tub, and its survey as built. */
export function tub(site: Site): PracticeEvent[] {
  return [...floor(site), ...wall(site), ...bands(site), ...survey(site)];
}

const floorOf = (site: Site) => floorShape(site.random('floor'));

function floor(site: Site): PracticeEvent[] {
  const r = site.random('2.1');
  const operation = '2.1';
  const level = floorOf(site);
  const late = { operation, by: 'lateTechnician', tablet: 1 } as const;
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.1, 0.97],
      words: { c5: 'Two tiles set aside, spares laid.', c11: 'Bed cured 48 h.' },
    }),
    ...site.pass({
      ...late,
      characteristic: 'floor-tile-moisture',
      at: 0.05,
      every_s: 240,
      named: [1, 2].flatMap((batch) => numbered(`batch ${batch} sample`, 3)),
      value: () => r.between(0.14, 0.28),
    }),
    ...site.pass({
      operation,
      characteristic: 'floor-step',
      at: 0.62,
      every_s: 75,
      named: numbered('joint', JOINTS),
      value: (s) => (s.id === HIGH_JOINT ? 0.55 : 0.05 * Math.round(r.between(1, 5))),
    }),
    ...site.again({
      operation,
      characteristic: 'floor-step',
      station: HIGH_JOINT,
      moment: site.time.at(operation, 0.78),
      value: () => 0.15,
      words: 'Tile lifted and bedded again.',
    }),
    ...site.pass({
      ...late,
      characteristic: 'floor-lattice-position',
      at: 0.82,
      // All of them: which sample is drawn follows from the casting's fingerprint, and a story does not know that.
      every_s: 14,
      value: () => Math.abs(0.24 + 0.09 * r.normal()),
    }),
    ...site.pass({
      operation,
      characteristic: 'floor-level',
      at: 0.9,
      every_s: 60,
      value: (s) => level(s.x_mm ?? 0, s.y_mm ?? 0) + 0.04 * r.normal(),
    }),
    site.mark(operation, 'finished'),
  ];
}

function wall(site: Site): PracticeEvent[] {
  const r = site.random('2.2');
  const operation = '2.2';
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, { at: [0.15, 0.98], words: { c11: 'Numbered 1 to 24, list in the cabinet.' } }),
    ...site.pass({
      operation,
      characteristic: 'stave-plumb',
      at: 0.7,
      every_s: 200,
      value: () => r.between(0.2, 0.6),
      stations: (s) => s.id !== PAPER_STAVE,
    }),
    ...site.pass({
      operation,
      characteristic: 'stave-plumb',
      at: 0.88,
      value: () => r.between(0.2, 0.6),
      stations: (s) => s.id === PAPER_STAVE,
      way: 'paper',
      late: { [PAPER_STAVE]: 305 },
      words: { [PAPER_STAVE]: 'From the pad: the tablet was charging.' },
    }),
    ...site.pass({
      operation,
      by: 'lateTechnician',
      tablet: 1,
      characteristic: 'stave-joint',
      at: 0.8,
      every_s: 55,
      value: () => 0.05 * Math.round((1.05 + 0.12 * r.normal()) / 0.05),
    }),
    ...site.pass({
      operation,
      characteristic: 'level-mark-zero',
      at: 0.93,
      every_s: 240,
      value: () => 405 + 0.05 * r.normal(),
    }),
    site.mark(operation, 'finished'),
  ];
}

function bands(site: Site): PracticeEvent[] {
  const r = site.random('2.3');
  const operation = '2.3';
  const isEarly = (s: Station) => s.id === EARLY_ROD;
  // Pads are gauged with blades in steps of 0.05 mm.
  const blade = () => (r.uniform() < 0.6 ? 0.05 : r.uniform() < 0.6 ? 0 : 0.1);
  const tension = () => 0.1 * Math.round(10 * (4.05 + 0.08 * r.normal()));
  return [
    ...[
      { ...site.pass({ operation, characteristic: 'band-tension', at: 0, stations: isEarly, value: tension })[0]! },
    ].map((event): PracticeEvent => ({ ...event, at: site.time.at('2.2', 1) - 2 * HOUR_MS })),
    site.note(
      operation,
      site.time.at('2.2', 1) - 2 * HOUR_MS + 3 * MINUTE_MS,
      'Band 1 laid on early to hold the wall; the last braces of 2.2 still stand.',
      'technician',
    ),
    site.mark(operation, 'started'),
    ...site.sheet(operation, { at: [0.1, 0.95], words: { c5: 'Reports 1 to 4 in the folder.' } }),
    ...site.pass({
      operation,
      by: 'lateTechnician',
      tablet: 1,
      characteristic: 'band-gap-to-stave',
      at: 0.3,
      every_s: 40,
      value: blade,
    }),
    ...site.pass({
      operation,
      characteristic: 'band-tension',
      at: 0.6,
      every_s: 120,
      stations: (s) => !isEarly(s),
      value: tension,
    }),
    ...site.pass({ operation, characteristic: 'band-travel', at: 0.75, every_s: 70, value: () => r.between(66, 71) }),
    site.mark(operation, 'finished'),
    site.write({
      tablet: 0,
      at: site.time.at(operation, 1) + 20 * MINUTE_MS,
      by: 'quality',
      kind: 'closure',
      body: (known) => ({
        finding: findingId('out-of-sequence', [operation, '2.2']),
        operation,
        words: 'Seen: one rod, and it agrees with the other fifteen. No effect.',
        name: known.view().standing.person(site.personId('quality'))!.name,
        role: 'quality',
      }),
    }),
  ];
}

function survey(site: Site): PracticeEvent[] {
  const r = site.random('2.4');
  const operation = '2.4';
  const { asBuilt } = tubShape(site.random('tub'));
  const level = floorOf(site);
  const warm = { part_C: 21.4, scale_C: 21.8 };
  const nominal = nominals(site, operation);
  const end = site.time.at(operation, 1);
  return [
    site.witness('W01', 'told', 'lead', site.time.at(operation, 0) - 8 * 24 * HOUR_MS, 'By letter and telephone.'),
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.05, 0.97],
      words: { c6: '21.2 to 22.0 °C.', c9: 'Three read twice at once, same to 0.02 mm.' },
    }),
    ...site.pass({
      operation,
      characteristic: 'tub-temperature',
      at: 0.1,
      every_s: 60,
      value: () => 21.4 + 0.1 * r.normal(),
    }),
    ...site.pass({
      operation,
      characteristic: 'tub-radius',
      at: 0.16,
      every_s: 55,
      warm,
      value: (s) => nominal.radius + asBuilt(s.angle_deg!, s.height_mm!) + 0.025 * r.normal(),
    }),
    ...site.pass({
      operation,
      characteristic: 'tub-diameter-20',
      at: 0.4,
      every_s: 75,
      warm,
      value: (s) => nominal.diameter + diameterOff(asBuilt, s.angle_deg!, s.height_mm!) + 0.03 * r.normal(),
    }),
    site.witness('W01', 'attended', 'customer', site.time.at(operation, 0.6), 'Read six stations again, all agree.'),
    ...site.pass({
      operation,
      characteristic: 'floor-level',
      at: 0.7,
      every_s: 60,
      value: (s) => level(s.x_mm ?? 0, s.y_mm ?? 0) + 0.04 * r.normal(),
    }),
    site.mark(operation, 'finished'),
    { tablet: 0, at: end + 5 * MINUTE_MS, kind: 'merge' },
    site.state('H01', 'instruments-in-date', 'quality', end + 10 * MINUTE_MS, 'Labels read one by one.'),
    ...site.sign(
      'H01',
      [
        ['lead', 'crew-lead'],
        ['quality', 'quality'],
        ['customer', 'customer'],
      ],
      end + 20 * MINUTE_MS,
    ),
  ];
}

/** Nominal radius and diameter of the tub at 20 °C, mm. */
export function nominals(site: Site, operation: string): { radius: number; diameter: number } {
  const of = (id: string) => {
    const limits = site.plan.characteristics.find((c) => c.id === id)!.limits;
    return (limits.find((l) => l.operations?.includes(operation)) ?? limits[0]!).nominal!;
  };
  return { radius: of('tub-radius'), diameter: of('tub-diameter-20') };
}
