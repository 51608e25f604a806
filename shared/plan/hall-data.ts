/**
 * Numbers of the glass, the hall and its tools that the design of the blank does not hold.
 * Glass: public data sheets of borosilicate 3.3 (ISO 3585). The rest is our own choice for practice.
 */

/** Temperature and log10 of the viscosity in Pa·s at the annealing, softening and working points. */
export const viscosityPoints = [
  { temperature_C: 560, log10_Pa_s: 12 },
  { temperature_C: 825, log10_Pa_s: 6.6 },
  { temperature_C: 1260, log10_Pa_s: 3 },
] as const;
/** log10 of the viscosity at the strain point, by its definition in ASTM C336 (10^14.5 poise). */
export const STRAIN_POINT_LOG10_PA_S = 13.5;
export const CASTING_PEAK_C = 1160;
/** Mould heats peak above the casting, so that the mould does its shrinking before glass is in it. */
export const MOULD_PEAK_C = 1180;
/** Doubt of the glass's expansion up to the set temperature. */
export const U_GLASS_EXPANSION_PER_K = 0.2e-6;
/** Of steel scales, arms and tapes. */
export const STEEL_EXPANSION_PER_K = 11.5e-6;
/** Mean expansion of the nickel–chromium alloy of the bands, 20 to 871 °C. */
export const BAND_EXPANSION_PER_K = 17.1e-6;
/** The hottest that a band gets under its insulation. */
export const BAND_PEAK_C = 820;
export const BAND_COUNT = 4;
export const RODS_PER_BAND = 4;
export const TILE_THICKNESS_MM = 25;
export const TILE_DENSITY_KG_M3 = 2600;
/** The liner is laid thicker by this factor, and settles in the bake. */
export const LINER_COLD_FACTOR = 1.04;
export const PAD_COUNT = 24;
export const PAD_DIAMETER_MM = 150;
/** Balance quality grade that the unbalance is compared with. */
export const BALANCE_GRADE_MM_S = 6.3;
