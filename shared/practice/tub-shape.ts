import type { Random } from './random.ts';

const rad = (degrees: number): number => (degrees * Math.PI) / 180;
/** Of a wrapped angle, degrees from −180 to 180. */
const apart = (a: number, b: number): number => ((((a - b) % 360) + 540) % 360) - 180;

/** The tub's wall: how far its radius is from nominal, mm at 20 °C. */
export interface TubShape {
  asBuilt(angle_deg: number, height_mm: number): number;
  afterPreheat(angle_deg: number, height_mm: number): number;
}

/** Where a joint between two staves opened in the preheat, and how wide the wall followed, degrees. */
const OPENED_AT_DEG = 56;
const OPENED_WIDTH_DEG = 10.5;
const OPENED_HEIGHT_MM = 380;
/** The station beside it, and how far its diameter then is from nominal, mm. */
const WORST_STATION_DEG = 52.5;
const WORST_DIAMETER_MM = 2.05;
const MIDDLE_HEIGHT_MM = 210;
const WALL_MM = 340;

/**
 * A wall with two lobes where a band is tight, three where staves were set, a little off centre and a little conical;
 * in the preheat it grew a little everywhere, and much where one joint opened at the top.
 */
export function tubShape(random: Random): TubShape {
  const mean = random.between(0.02, 0.06);
  const two = { size: random.between(0.13, 0.17), at: random.between(48, 60) };
  const three = { size: random.between(0.03, 0.05), at: random.between(0, 120) };
  const centre = { size: random.between(0.08, 0.14), at: random.between(0, 360) };
  const taper = random.between(0.04, 0.08);
  const growth = random.between(0.08, 0.11);
  const asBuilt = (angle: number, height: number) =>
    mean +
    two.size * Math.cos(2 * rad(angle - two.at)) +
    three.size * Math.cos(3 * rad(angle - three.at)) +
    centre.size * Math.cos(rad(angle - centre.at)) +
    (taper * (height - MIDDLE_HEIGHT_MM)) / WALL_MM;
  const grown = (angle: number, height: number) => asBuilt(angle, height) + growth;
  const without = grown(WORST_STATION_DEG, OPENED_HEIGHT_MM) + grown(WORST_STATION_DEG + 180, OPENED_HEIGHT_MM);
  const opened = (WORST_DIAMETER_MM - without) / bump(WORST_STATION_DEG, OPENED_HEIGHT_MM);
  return { asBuilt, afterPreheat: (angle, height) => grown(angle, height) + opened * bump(angle, height) };
}

/** A smooth hill, 1 where the joint opened; it dies out towards the floor. */
const bump = (angle: number, height: number): number =>
  Math.exp(-0.5 * (apart(angle, OPENED_AT_DEG) / OPENED_WIDTH_DEG) ** 2) *
  Math.exp(-0.5 * ((height - OPENED_HEIGHT_MM) / 90) ** 2);

export const diameterOff = (radius: (angle: number, height: number) => number, angle: number, height: number): number =>
  radius(angle, height) + radius(angle + 180, height);

/** The floor: a shallow dish with a tilt, mm above its plane at a place on it. */
export function floorShape(random: Random): (x_mm: number, y_mm: number) => number {
  const dish = random.between(0.1, 0.16);
  const tilt = { size: random.between(0.01, 0.02), at: random.between(0, 360) };
  const FLOOR_MM = 1500;
  return (x, y) => {
    const share = Math.hypot(x, y) / FLOOR_MM;
    return dish * (share ** 2 - 0.5) + (tilt.size * (x * Math.cos(rad(tilt.at)) + y * Math.sin(rad(tilt.at)))) / 1000;
  };
}
