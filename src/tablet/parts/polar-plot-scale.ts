/** Radii in a drawing of 300 by 300: the two limits always stand here, so that plots compare. */
export const LOWER_RADIUS = 60;
export const UPPER_RADIUS = 132;
export const CENTRE = 150;
const LEAST = 12;
const MOST = 146;

/** A station on the wall: its angle in degrees, anticlockwise from 0° at the right, and its deviation from nominal. */
export type PolarPoint = { angle: number; deviation: number | null };

/** The radius of a deviation; what lies past the edge of the drawing is held at the edge. */
export function radiusOf(deviation: number, lower: number, upper: number): number {
  const radius = LOWER_RADIUS + ((deviation - lower) / (upper - lower)) * (UPPER_RADIUS - LOWER_RADIUS);
  return Math.min(MOST, Math.max(LEAST, radius));
}

/** The place of an angle and radius in the drawing, rounded to a tenth. */
export function placeOf(angle: number, radius: number): [x: number, y: number] {
  const turn = (angle * Math.PI) / 180;
  const tenth = (v: number) => Math.round(v * 10) / 10;
  return [tenth(CENTRE + radius * Math.cos(turn)), tenth(CENTRE - radius * Math.sin(turn))];
}

/** A diameter is drawn at both of its ends. */
export function bothEnds(points: PolarPoint[]): PolarPoint[] {
  return [...points, ...points.map(({ angle, deviation }) => ({ angle: angle + 180, deviation }))];
}

/** The line through the stations of one height; it breaks where one is not measured and closes when all are. */
export function polarPath(points: PolarPoint[], lower: number, upper: number): string {
  let drawing = false;
  const steps = points.map(({ angle, deviation }) => {
    const begun = drawing;
    drawing = deviation !== null;
    if (deviation === null) return '';
    return `${begun ? 'L' : 'M'}${placeOf(angle, radiusOf(deviation, lower, upper)).join(' ')}`;
  });
  const whole = points.length > 2 && points.every(({ deviation }) => deviation !== null);
  return steps.join('') + (whole ? 'Z' : '');
}
