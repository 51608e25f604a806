import * as z from 'zod/mini';
import { defineCalculation, figure, given, workedOut } from './calculation.ts';
import { positive } from './fields.ts';

const input = z.strictObject({
  ring_radius_mm: positive('must be greater than 0: a radius'),
  sag_mm: positive('must be greater than 0: a flat or convex surface has no sag to read'),
});
const output = z.strictObject({ radius_of_curvature_mm: z.number(), sphere_radius_mm: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Radius of curvature of the front surface from the depth of its middle under a ring. */
export const spherometer = defineCalculation<Input, Output>({
  name: 'spherometer',
  title: 'Radius of curvature from a sag',
  group: 'Shape and spin',
  source: 'Geometry: paraboloid h = a² / 2R; sphere by the theorem of intersecting chords (Euclid, Elements III.35)',
  formula: 'R = a² / 2h; R_sphere = (a² + h²) / 2h',
  validity: 'Ring centred on the axis; contact on a line of no width (ball feet need their own correction).',
  version: 1,
  input,
  output,
  compute(i) {
    const paraboloid = ((i.ring_radius_mm / i.sag_mm) * i.ring_radius_mm) / 2;
    return { radius_of_curvature_mm: paraboloid, sphere_radius_mm: paraboloid + i.sag_mm / 2 };
  },
  working(i, o) {
    return [
      given('a', 'radius of the ring', i.ring_radius_mm, 'mm'),
      given('h', 'sag', i.sag_mm, 'mm'),
      workedOut(
        'R',
        'radius of curvature of the paraboloid',
        o.radius_of_curvature_mm,
        'mm',
        `${figure(i.ring_radius_mm, 9)}² / (2 · ${figure(i.sag_mm, 9)})`,
      ),
      workedOut(
        'R_sphere',
        'radius of the sphere through the same points',
        o.sphere_radius_mm,
        'mm',
        `(${figure(i.ring_radius_mm, 9)}² + ${figure(i.sag_mm, 9)}²) / (2 · ${figure(i.sag_mm, 9)})`,
      ),
    ];
  },
});
