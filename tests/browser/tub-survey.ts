/**
 * What the tub of the practice blank should read, worked out by another path than the app's: a reading is taken to its
 * true length on the warm scale first, the part is cooled after that, all in thousandths of a micrometre.
 *
 * Sources: reference temperature ISO 1:2022, 20 °C. Guarded acceptance ISO 14253-1:2017 with 95 % conformance
 * probability on one side: 1.65 standard uncertainties. Mean expansion of borosilicate glass 3.3 (20–300 °C):
 * ISO 3585:1998, 3.3e-6/K. Steel of a measuring scale 11.5e-6/K: handbook value (Kaye & Laby, mild steel 11 to 12e-6), from
 * memory. The tub's 4.8e-6/K, the plan's ±1.5 mm and the arm's 0.20 mm are the practice plan's own choice.
 */

export const GLASS_PER_K = 3.3e-6;
export const STEEL_PER_K = 11.5e-6;
export const TUB_PER_K = 4.8e-6;
export const PART_C = 24.3;
export const SCALE_C = 22.8;
export const TOLERANCE_MM = 1.5;
export const ARM_U_MM = 0.2;

/** Diameter of the tub at 20 °C that gives 3200 mm of glass at 20 °C, set at 560 °C inside 10 mm of liner. */
export function nominalDiameter(): number {
  const hotBlank = 3200 + 3200 * GLASS_PER_K * (560 - 20);
  const hotTub = hotBlank + 10 + 10;
  // Shrinks by its own expansion from 560 to 20 °C: solved by fixed point, not by division.
  let cold = hotTub;
  for (let i = 0; i < 50; i++) cold = hotTub - cold * TUB_PER_K * (560 - 20);
  return cold;
}

/** What a warm steel arm reads in the warm tub where the tub has this diameter at 20 °C, to 0.01 mm. */
export function readingFor(at20_mm: number): string {
  const warmTub = at20_mm + at20_mm * TUB_PER_K * (PART_C - 20);
  const divisions = warmTub - (warmTub * STEEL_PER_K * (SCALE_C - 20)) / (1 + STEEL_PER_K * (SCALE_C - 20));
  return divisions.toFixed(2);
}

/** The diameter at 20 °C that a typed reading means. */
export function at20(typed: string): number {
  const length = Number(typed);
  const warmTub = length + length * STEEL_PER_K * (SCALE_C - 20);
  return warmTub / (1 + TUB_PER_K * (PART_C - 20));
}

/** Standard uncertainty by finite differences over every input (JCGM 100:2008, 5.1.3), not by the app's formula. */
export function uncertainty(typed: string): number {
  const length = Number(typed);
  const model = (l: number, ts: number, tp: number, as: number, ap: number) =>
    (l * (1 + as * (ts - 20))) / (1 + ap * (tp - 20));
  const at = [length, SCALE_C, PART_C, STEEL_PER_K, TUB_PER_K] as const;
  const u = [ARM_U_MM, 0.15, 0.15, 1e-6, 0.3e-6];
  const variance = at.reduce((sum, value, i) => {
    const up = at.map((v, j) => (i === j ? value + u[i]! : v)) as [number, number, number, number, number];
    return sum + (model(...up) - model(...at)) ** 2;
  }, 0);
  return Math.sqrt(variance);
}

export type Expected = 'within' | 'not-proven' | 'outside';

/** ISO 14253-1: conformity proven, nonconformity proven, or neither. */
export function verdictOf(value: number, u: number): Expected {
  const room = TOLERANCE_MM - Math.abs(value - Number(nominalDiameter().toFixed(2)));
  const guard = 1.65 * u;
  return room >= guard ? 'within' : room <= -guard ? 'outside' : 'not-proven';
}

const ANGLES = Array.from({ length: 12 }, (_, i) => 7.5 + 15 * i);
const HEIGHTS = [40, 200, 380];

/** The stations in the order in which they are read. */
export const stations = HEIGHTS.flatMap((height) =>
  ANGLES.map((angle) => ({ id: `${angle}@${height}`, label: `${angle}° at ${height} mm` })),
);

export const OUTSIDE = '82.5@200';
export const NOT_PROVEN = '127.5@380';

/** Deviations from nominal, mm: a slow wave as real tubs have it, one station far out and one near its limit. */
export function deviation(id: string, survey: 'as built' | 'after preheat'): number {
  const after = survey === 'after preheat';
  if (id === OUTSIDE) return after ? 2.1 : 1.1;
  if (id === NOT_PROVEN) return after ? 1.4 : 0.8;
  const angle = (Number(id.split('@')[0]) * Math.PI) / 180;
  return 0.25 * Math.cos(2 * angle) + (after ? 0.2 : 0);
}
