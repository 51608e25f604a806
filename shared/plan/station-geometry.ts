/** Where a blank of another size has its stations: the practice blank's places, in proportion and rounded. */

const roundTo = (value: number, step: number): number => Math.round(value / step) * step;

/** Lowest and highest level mark about the edge of the face, mm above the floor. */
export const levelMarkRange = (edge_mm: number): [number, number] => [
  roundTo(edge_mm - 45, 5),
  roundTo(edge_mm + 15, 5),
];

/** Heights of the wall stations above the floor: near the foot, half way, below the edge of the face; mm. */
export const wallHeights = (edge_mm: number): [number, number, number] => [
  40,
  roundTo(edge_mm / 2, 10),
  roundTo(edge_mm - 25, 10),
];

/** Radii of the three circles of floor points, mm. */
export const floorRadii = (blank_diameter_mm: number): [number, number, number] => [
  roundTo(blank_diameter_mm * 0.15625, 10),
  roundTo(blank_diameter_mm * 0.3125, 10),
  roundTo(blank_diameter_mm * 0.46875, 10),
];

/** Radius of the indicator path on the table, mm. */
export const runoutRadius = (blank_diameter_mm: number): number => roundTo(blank_diameter_mm / 2, 10);

/** Radius of the six thermocouple places in the mould and of the face stations for stress, mm. */
export const channelRadius = (blank_diameter_mm: number): number => roundTo(blank_diameter_mm * 0.40625, 10);

/** Radii of the two circles of bond pads: each pad then carries the same area; mm. */
export const padRadii = (blank_diameter_mm: number): [number, number] => [
  roundTo((blank_diameter_mm / 2) * Math.sqrt(1 / 6), 10),
  roundTo((blank_diameter_mm / 2) * Math.sqrt(2 / 3), 10),
];
