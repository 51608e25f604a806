import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { finite, notNegative } from './fields.ts';
import { unitVector } from './numeric/shape-degrees.ts';
import { carefulSum } from './numeric/shape-sum.ts';

const RIGGING_CAUTION =
  'must be 30° to 90° from the horizontal: a flatter sling more than doubles its tension and squeezes the load. Change the rigging';

const input = z.strictObject({
  cells: z
    .array(
      z.strictObject({
        x_mm: finite(),
        y_mm: finite(),
        load_kN: notNegative('must not be negative: a cell hangs or stands'),
      }),
    )
    .check(z.minLength(1, 'needs at least 1')),
  sling_angle_deg: z.optional(z.number().check(z.gte(30, RIGGING_CAUTION), z.lte(90, RIGGING_CAUTION))),
});
const output = z.strictObject({
  total_kN: z.number(),
  centre_x_mm: z.number(),
  centre_y_mm: z.number(),
  greatest_share: z.number(),
  sling_factor: z.optional(z.number()),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Mean of coordinates, each weighted; taken about the first so that far-off origins cost no digits. */
function weightedMean(coordinates: number[], weights: number[]): number {
  const origin = coordinates[0]!;
  const moment = carefulSum(coordinates.map((c, k) => (c - origin) * weights[k]!));
  return origin + moment / carefulSum(weights);
}

function slingLines(i: Input, o: Output): WorkingLine[] {
  if (i.sling_angle_deg === undefined || o.sling_factor === undefined) return [];
  return [
    given('β', 'angle of the slings from the horizontal', i.sling_angle_deg, '°'),
    workedOut(
      'k',
      'tension of a sling over its vertical share',
      o.sling_factor,
      '',
      `1 / sin ${figure(i.sling_angle_deg)}°`,
    ),
  ];
}

/** Where the mass hangs and how the load is shared, from the load cells at the lift. */
export const loadShare = defineCalculation<Input, Output>({
  name: 'load-share',
  title: 'Load and centre of gravity from load cells',
  group: 'Shape and spin',
  source:
    'Statics: balance of moments; tension of an inclined sling after EN 13414-1 and ASME B30.9 (1 / sin of the angle from the horizontal)',
  formula: 'W = Σ F; x = Σ F x / W; y = Σ F y / W; share = max F / W; k = 1 / sin β',
  validity:
    'Vertical loads, all cells zeroed hanging free. Local codes and the appointed lifter decide; this advises only.',
  version: 1,
  input,
  output,
  compute(i) {
    const loads = i.cells.map((c) => c.load_kN);
    const greatest = loads.reduce((a, b) => Math.max(a, b));
    if (greatest === 0) throw new RefusedInput('cells', 'carry no load: there is no centre to find');
    // Loads over the greatest: sums then neither overflow nor vanish.
    const relative = loads.map((load) => load / greatest);
    const total_kN = carefulSum(loads);
    const result = {
      total_kN,
      centre_x_mm: weightedMean(
        i.cells.map((c) => c.x_mm),
        relative,
      ),
      centre_y_mm: weightedMean(
        i.cells.map((c) => c.y_mm),
        relative,
      ),
      greatest_share: 1 / carefulSum(relative),
    };
    if (i.sling_angle_deg === undefined) return result;
    return { ...result, sling_factor: 1 / unitVector(i.sling_angle_deg)[1] };
  },
  working(i, o) {
    const greatest = i.cells.reduce((a, b) => (b.load_kN > a.load_kN ? b : a)).load_kN;
    return [
      ...i.cells.map((c, k) =>
        given(`F_${k}`, `load of cell ${k} at x ${figure(c.x_mm, 9)}, y ${figure(c.y_mm, 9)} mm`, c.load_kN, 'kN'),
      ),
      workedOut('W', 'total load', o.total_kN, 'kN', `Σ F of ${i.cells.length} cells`),
      workedOut('x', 'centre of gravity, x', o.centre_x_mm, 'mm', `Σ F x / ${figure(o.total_kN, 9)}`),
      workedOut('y', 'centre of gravity, y', o.centre_y_mm, 'mm', `Σ F y / ${figure(o.total_kN, 9)}`),
      workedOut(
        'share',
        'greatest share of one cell',
        o.greatest_share,
        '',
        `${figure(greatest, 9)} / ${figure(o.total_kN, 9)}`,
      ),
      ...slingLines(i, o),
    ];
  },
});
