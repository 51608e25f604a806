import type { EvaluatedDesign } from '../evaluate-design.ts';

/** Shown beside the derived figures: where they may be wrong. */
export const doubts = (w: EvaluatedDesign): string[] => [
  `Expansion above 500 °C is two to three times the cold value: the permitted anneal rate may be optimistic by that factor. Hence ${w.annealRate_K_h} K/h planned against ${w.permitted.result.rate_K_h.toFixed(3)} permitted.`,
  'The fit of viscosity holds from 560 to 1260 °C; the setting temperature near 468 °C is an extrapolation.',
  `Thin-film levelling says that the surface stops following the rotation between 1000 and 900 °C, far above the set temperature of ${w.design.set_temperature_C} °C that fixes lateral size. One set temperature for both is a simplification.`,
  'Hot glass is about 2 % more voluminous than cold: hot level marks read some 3 mm above the cold figure.',
  `The cut cores at the edge are counted as filling their cells to the margin exactly. The formula also ignores the spacers; unless ${w.spacers_kg.toFixed(1)} kg is taken off, the face comes out ${(w.spacers_kg / w.face_kg_mm).toFixed(1)} mm thick.`,
  'Gravity from the formula lacks the local anomaly (up to 1e-3 m/s², about 1 mm of R): a measured value is better.',
];
