import { findingId } from '../../logbook/state/findings.ts';
import type { Station } from '../../plan/schema.ts';
import type { PracticeEvent } from '../events.ts';
import { readingKey, type Site } from '../site.ts';
import { MINUTE_MS } from '../timetable.ts';
import { diameterOff, tubShape } from '../tub-shape.ts';
import { nominals } from './tub.ts';

const operation = '5.1';
/** The last work of the practice casting so far: half of the survey is done. */
export const RESURVEY_SHARE = 0.56;
const WORST = '52.5@380';
const MISTYPED = '22.5@200';
/** Digits that changed places as the reading was typed. */
const SWAPPED_MM = 54;
/** The part of the top ring that is measured so far. */
const TOP_MEASURED_DEG = 90;

/** Operation 5.1, half done: what the preheat changed, and what the furnace tablet still had to tell. */
export function resurvey(site: Site): PracticeEvent[] {
  return [...diameters(site), ...furnaceTabletFound(site), ...rest(site)];
}

function diameters(site: Site): PracticeEvent[] {
  const r = site.random(operation);
  const { afterPreheat } = tubShape(site.random('tub'));
  const nominal = nominals(site, operation);
  const warm = { part_C: 23.1, scale_C: 22.4 };
  const diameter = (s: Station) =>
    nominal.diameter + diameterOff(afterPreheat, s.angle_deg!, s.height_mm!) + 0.02 * r.normal();
  const survey = { operation, characteristic: 'tub-diameter-20', every_s: 75, warm, value: diameter } as const;
  const mistyped = (s: Station) => diameter(s) + (s.id === MISTYPED ? SWAPPED_MM : 0);
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.02, 0.3],
      words: { c4: 'RA-1 and its gauge, as in 2.4.' },
      open: ['c7', 'c8', 'c9', 'c10'],
    }),
    ...site.pass({
      operation,
      characteristic: 'tub-temperature',
      at: 0.04,
      every_s: 60,
      value: () => 23.1 + 0.15 * r.normal(),
    }),
    ...site.pass({ ...survey, at: 0.08, stations: (s) => s.height_mm === 40 }),
    ...site.pass({ ...survey, at: 0.15, stations: (s) => s.height_mm === 200, value: mistyped }),
    ...site.again({
      ...survey,
      station: MISTYPED,
      moment: site.time.at(operation, 0.15) + 4 * MINUTE_MS,
      strike: { reason: 'mistyped', words: 'Two digits swapped; the arm still stood there.' },
    }),
    ...site.pass({
      operation,
      characteristic: 'tub-radius',
      at: 0.22,
      every_s: 55,
      warm,
      stations: (s) => s.height_mm === 40 || s.height_mm === 200,
      value: (s) => nominal.radius + afterPreheat(s.angle_deg!, s.height_mm!) + 0.02 * r.normal(),
    }),
    ...site.pass({
      ...survey,
      at: 0.4,
      stations: (s) => s.height_mm === 380 && s.angle_deg! < TOP_MEASURED_DEG,
    }),
  ];
}

/** On the morning of the last day: the tablet that was missing since the test spin hands on what it has. */
function furnaceTabletFound(site: Site): PracticeEvent[] {
  const r = site.random('5.1 ports');
  const found = site.time.at(operation, 0.48);
  return [
    { tablet: 0, at: found, kind: 'merge' },
    { tablet: 1, at: found + MINUTE_MS, kind: 'merge' },
    site.note(
      '3.3',
      found + 6 * MINUTE_MS,
      'Furnace tablet found uncharged in the drive cabinet, there since the test spin. Its entries are in now: H02 was signed without the new reading of CR-3.',
      'lead',
    ),
    ...site.pass({
      operation,
      by: 'lateTechnician',
      tablet: 1,
      characteristic: 'level-mark-zero',
      at: 0.5,
      every_s: 180,
      stations: (_, index) => index < 2,
      value: () => 405.1 + 0.04 * r.normal(),
    }),
    { tablet: 0, at: site.time.at(operation, 0.53), kind: 'merge' },
  ];
}

function rest(site: Site): PracticeEvent[] {
  const at = site.time.at(operation, RESURVEY_SHARE);
  const worst = readingKey(operation, 'tub-diameter-20', WORST);
  return [
    site.write({
      tablet: 0,
      at: at - 6 * MINUTE_MS,
      by: 'technician',
      kind: 'finding',
      body: (known) => ({
        operation,
        title: 'Joint between staves 4 and 5 open at the top',
        words: 'A 0.4 mm blade goes in 60 mm deep. Dust on the floor beneath.',
        severity: 'major',
        blocks: 'H03',
        about: [known.hashOf(worst)],
        owner: site.personId('lead'),
      }),
    }),
    site.write({
      tablet: 0,
      at,
      by: 'engineer',
      kind: 'note',
      body: (known) => ({
        about: findingId('outside', [known.hashOf(worst)]),
        text: 'Do not re-tension yet. Finish the ring first: I want to see how far the wall follows.',
      }),
    }),
  ];
}
