import * as z from 'zod/mini';
import { defineCalculation, figure, workedOut } from './calculation.ts';
import { finite, notNegative, positive } from './fields.ts';
import { directionDeg, unitVector } from './numeric/shape-degrees.ts';
import { carefulSum } from './numeric/shape-sum.ts';

const input = z.strictObject({
  blocks: z
    .array(
      z.strictObject({
        mass_kg: positive('must be greater than 0: a mass'),
        distance_mm: notNegative('must not be negative: a distance'),
        angle_deg: finite(),
      }),
    )
    .check(z.minLength(1, 'needs at least 1')),
});
const output = z.strictObject({
  total_kg: z.number(),
  unbalance_kg_mm: z.number(),
  unbalance_angle_deg: z.nullable(z.number()),
  centre_offset_mm: z.number(),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Below this the unbalance is rounding and has no direction, kg mm. */
const NO_UNBALANCE_KG_MM = 1e-9;

/** First moments of the blocks about the axis, kg mm. */
function moments(i: Input): { x: number; y: number } {
  const parts = i.blocks.map((b) => unitVector(b.angle_deg).map((c) => b.mass_kg * b.distance_mm * c));
  return { x: carefulSum(parts.map((p) => p[0]!)), y: carefulSum(parts.map((p) => p[1]!)) };
}

/** How far the load of glass is out of balance, and to which side. */
export const loadBalance = defineCalculation<Input, Output>({
  name: 'load-balance',
  title: 'Balance of the load',
  group: 'Shape and spin',
  source: 'ISO 21940-2:2017, unbalance vector: sum of mass times distance from the axis',
  formula: 'U = |Σ m r (cos φ, sin φ)|; e = U / Σ m',
  validity: 'Static unbalance; each block as a point at its centre of mass.',
  version: 1,
  input,
  output,
  compute(i) {
    const total_kg = carefulSum(i.blocks.map((b) => b.mass_kg));
    const { x, y } = moments(i);
    const unbalance_kg_mm = Math.hypot(x, y);
    return {
      total_kg,
      unbalance_kg_mm,
      unbalance_angle_deg: unbalance_kg_mm < NO_UNBALANCE_KG_MM ? null : directionDeg(x, y),
      centre_offset_mm: unbalance_kg_mm / total_kg,
    };
  },
  working(i, o) {
    const { x, y } = moments(i);
    return [
      ...i.blocks.map((b, k) =>
        workedOut(
          `U_${k}`,
          `block ${k} at ${figure(b.angle_deg)}°`,
          b.mass_kg * b.distance_mm,
          'kg mm',
          `${figure(b.mass_kg)} · ${figure(b.distance_mm)}`,
        ),
      ),
      workedOut('M', 'total mass', o.total_kg, 'kg', `Σ m of ${i.blocks.length} blocks`),
      workedOut('U_x', 'moment along 0°', x, 'kg mm', 'Σ m r cos φ'),
      workedOut('U_y', 'moment along 90°', y, 'kg mm', 'Σ m r sin φ'),
      workedOut('U', 'unbalance', o.unbalance_kg_mm, 'kg mm', `√(${figure(x)}² + ${figure(y)}²)`, 'ISO 21940-2'),
      workedOut(
        'φ_U',
        o.unbalance_angle_deg === null ? 'no heavy side' : 'direction of the heavy side',
        o.unbalance_angle_deg,
        '°',
        `atan2(${figure(y)}, ${figure(x)})`,
      ),
      workedOut(
        'e',
        'centre of the mass off the axis',
        o.centre_offset_mm,
        'mm',
        `${figure(o.unbalance_kg_mm)} / ${figure(o.total_kg, 9)}`,
      ),
    ];
  },
});
