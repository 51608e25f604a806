import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { notNegative, positive } from './fields.ts';
import { farthestFromAxis, nearestToAxis, ribFraction, sixthOfRing } from './numeric/shape-hexagons.ts';

const input = z.strictObject({
  blank_diameter_mm: positive('must be greater than 0: a diameter'),
  pitch_mm: positive('must be greater than 0: a pitch'),
  gap_mm: positive('must be greater than 0: a gap'),
  edge_margin_mm: z.optional(notNegative('must not be negative: a margin')),
  list: z.optional(z.boolean()),
});
const position = z.strictObject({ address: z.string(), x_mm: z.number(), y_mm: z.number(), whole: z.boolean() });
const output = z.strictObject({
  rib_fraction: z.number(),
  whole_count: z.number(),
  cut_count: z.number(),
  count: z.number(),
  outermost_corner_mm: z.optional(z.number()),
  positions: z.optional(z.array(position)),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;
type Position = z.infer<typeof position>;

/** More rings than any mould has; keeps the tablet from counting for ever. */
const GREATEST_RING = 500;
/** A corner this little outside the circle still counts as on it, mm. */
const ON_CIRCLE_MM = 1e-9;

type Layout = Pick<Input, 'blank_diameter_mm' | 'pitch_mm' | 'gap_mm' | 'edge_margin_mm'>;

/** One core in the first sixth of a ring; the other five follow by turns of 60°. */
interface Found {
  readonly ring: number;
  readonly step: number;
  readonly whole: boolean;
  readonly corner_mm: number;
}

/** Radius of the circle that whole cores keep to, mm. @throws {RefusedInput} when the margin leaves none. */
function limitRadius(i: Layout): number {
  const limit = i.blank_diameter_mm / 2 - (i.edge_margin_mm ?? 0);
  if (limit <= 0) throw new RefusedInput('edge_margin_mm', 'must be less than half the diameter');
  return limit;
}

/** Every core of the first sixth that is whole or cut, ring by ring, the one at the centre first. */
function findCores(i: Layout): Found[] {
  if (i.gap_mm >= i.pitch_mm) throw new RefusedInput('gap_mm', 'must be less than the pitch');
  // In units of the pitch: no overflow, and positions are as exact as they can be.
  const limit = limitRadius(i) / i.pitch_mm;
  const tolerance = ON_CIRCLE_MM / i.pitch_mm;
  const across = 1 - i.gap_mm / i.pitch_mm;
  const rings = Math.ceil((limit + across / Math.sqrt(3)) / (Math.sqrt(3) / 2));
  if (rings > GREATEST_RING) {
    throw new RefusedInput('pitch_mm', `is so small that it asks for more than ${GREATEST_RING} rings of cores`);
  }
  const found: Found[] = [];
  for (let ring = 0; ring <= rings; ring++) {
    sixthOfRing(ring, across).forEach((corners, step) => {
      const farthest = farthestFromAxis(corners);
      const whole = farthest <= limit + tolerance;
      if (whole || ring === 0 || nearestToAxis(corners) < limit - tolerance) {
        found.push({ ring, step, whole, corner_mm: farthest * i.pitch_mm });
      }
    });
  }
  return found;
}

const timesInRing = (core: Found): number => (core.ring === 0 ? 1 : 6);

const countOf = (cores: Found[], whole: boolean): number =>
  cores.filter((c) => c.whole === whole).reduce((sum, c) => sum + timesInRing(c), 0);

/** How many cores of a layout are whole and how many are cut to the round. */
export function countCores(i: Layout): { whole: number; cut: number } {
  const cores = findCores(i);
  return { whole: countOf(cores, true), cut: countOf(cores, false) };
}

/** Turns a place of the lattice by 60° counter-clockwise. */
const turned = ([q, r]: [number, number]): [number, number] => [-r, q + r];

/** The core and its five turned companions, with address and place. */
function companions(core: Found, pitch: number): Position[] {
  let place: [number, number] = [core.ring - core.step, core.step];
  return Array.from({ length: timesInRing(core) }, (_, side) => {
    const [q, r] = place;
    place = turned(place);
    return {
      address: `${core.ring}.${1 + side * core.ring + core.step}`,
      // + 0 turns −0 into 0.
      x_mm: pitch * (q + r / 2) + 0,
      y_mm: pitch * ((r * Math.sqrt(3)) / 2) + 0,
      whole: core.whole,
    };
  });
}

/** All cores, ring by ring and counter-clockwise in each. */
function listCores(cores: Found[], pitch: number): Position[] {
  const numbered = cores.flatMap((core) =>
    companions(core, pitch).map((p, side) => ({ p, ring: core.ring, number: side * core.ring + core.step })),
  );
  return numbered.sort((a, b) => a.ring - b.ring || a.number - b.number).map((n) => n.p);
}

function outermostLine(o: Output): WorkingLine[] {
  if (o.outermost_corner_mm === undefined) return [];
  return [
    workedOut(
      'r_out',
      'outermost corner of a whole core',
      o.outermost_corner_mm,
      'mm',
      'the greatest distance of a corner of a whole core from the axis',
    ),
  ];
}

/** Where the cores stand, how many are whole, and what is left for the ribs. */
export const coreLayout = defineCalculation<Input, Output>({
  name: 'core-layout',
  title: 'Layout of the cores',
  group: 'Shape and spin',
  source: 'Geometry of the regular hexagonal tiling (H. S. M. Coxeter, Introduction to Geometry, 2nd ed., chapter 4)',
  formula: 'x = p (q + r/2), y = p r √3/2; rib fraction = 1 − ((p − g) / p)²; whole: all corners within D/2 − margin',
  validity: 'Regular hexagons with sharp corners, a flat facing +x, one core at the centre. Fillets not counted.',
  version: 1,
  input,
  output,
  compute(i) {
    const cores = findCores(i);
    const whole_count = countOf(cores, true);
    const result: Output = {
      rib_fraction: ribFraction(i.pitch_mm, i.gap_mm),
      whole_count,
      cut_count: countOf(cores, false),
      count: whole_count,
    };
    if (whole_count > 0) {
      result.outermost_corner_mm = cores.filter((c) => c.whole).reduce((a, c) => Math.max(a, c.corner_mm), 0);
    }
    return i.list === true ? { ...result, positions: listCores(cores, i.pitch_mm) } : result;
  },
  working(i, o) {
    const across = i.pitch_mm - i.gap_mm;
    const margin = i.edge_margin_mm ?? 0;
    return [
      given('D', 'diameter of the blank', i.blank_diameter_mm, 'mm'),
      given('p', 'pitch of the cores', i.pitch_mm, 'mm'),
      given('g', 'gap between cores: the rib', i.gap_mm, 'mm'),
      given('m', 'margin at the edge', margin, 'mm', i.edge_margin_mm === undefined ? 'not given, none' : 'given'),
      workedOut('d', 'core across flats', across, 'mm', `${figure(i.pitch_mm, 9)} − ${figure(i.gap_mm, 9)}`),
      workedOut('c', 'centre of a core to its corner', across / Math.sqrt(3), 'mm', `${figure(across, 9)} / √3`),
      workedOut(
        'r_lim',
        'circle that whole cores keep to',
        limitRadius(i),
        'mm',
        `${figure(i.blank_diameter_mm, 9)}/2 − ${figure(margin, 9)}`,
      ),
      workedOut(
        'f',
        'rib fraction',
        o.rib_fraction,
        '',
        `1 − ((${figure(i.pitch_mm, 9)} − ${figure(i.gap_mm, 9)}) / ${figure(i.pitch_mm, 9)})²`,
      ),
      workedOut('N', 'whole cores', o.whole_count, '', 'all six corners at or inside r_lim'),
      workedOut('N_cut', 'cores cut to the round', o.cut_count, '', 'further cores that overlap r_lim'),
      ...outermostLine(o),
    ];
  },
});
