import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, workedOut } from './calculation.ts';
import { notNegative, positive } from './fields.ts';

const input = z.strictObject({
  distance_from_axis_mm: notNegative('must not be negative: a distance'),
  radius_of_curvature_mm: positive('must be greater than 0: a radius of curvature'),
  centre_thickness_mm: positive('must be greater than 0: a thickness'),
  face_thickness_mm: notNegative('must not be negative: a thickness'),
  back_thickness_mm: notNegative('must not be negative: a thickness'),
});
const output = z.strictObject({ height_mm: z.number() });
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Rise of the front surface over its lowest point, mm, at a distance from the axis. */
const rise = (i: Input): number => ((i.distance_from_axis_mm / i.radius_of_curvature_mm) * i.distance_from_axis_mm) / 2;

/** Height of a core with a flat top, so that the face has its thickness on the core's own axis. */
export const coreHeight = defineCalculation<Input, Output>({
  name: 'core-height',
  title: 'Height of a core',
  group: 'Shape and spin',
  source: 'Geometry of the paraboloid z = r² / 2R (H. Lamb, Hydrodynamics, 6th ed., article 26)',
  formula: 'h = t_c + r² / 2R − t_f − t_b',
  validity: 'All at 20 °C; the top is flat, so the face thickness holds on the axis of the core only.',
  version: 1,
  input,
  output,
  compute(i) {
    const height_mm = i.centre_thickness_mm - i.face_thickness_mm - i.back_thickness_mm + rise(i);
    if (height_mm <= 0) {
      throw new RefusedInput('centre_thickness_mm', 'leaves no height for a core between face and back');
    }
    return { height_mm };
  },
  working(i, o) {
    return [
      given('r', 'distance of the core from the axis', i.distance_from_axis_mm, 'mm'),
      given('R', 'radius of curvature', i.radius_of_curvature_mm, 'mm'),
      given('t_c', 'thickness on the axis', i.centre_thickness_mm, 'mm'),
      given('t_f', 'thickness of the face', i.face_thickness_mm, 'mm'),
      given('t_b', 'thickness of the back', i.back_thickness_mm, 'mm'),
      workedOut(
        'z',
        'rise of the front surface over its lowest point',
        rise(i),
        'mm',
        `${figure(i.distance_from_axis_mm, 9)}² / (2 · ${figure(i.radius_of_curvature_mm, 9)})`,
      ),
      workedOut(
        'h',
        'height of the core',
        o.height_mm,
        'mm',
        `${figure(i.centre_thickness_mm)} + ${figure(rise(i), 8)} − ${figure(i.face_thickness_mm)} − ${figure(i.back_thickness_mm)}`,
      ),
    ];
  },
});
