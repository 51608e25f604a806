/** A slab cooled from both faces, worked out step by step: an oracle that shares no formula with the calculations. */
export interface OracleSlab {
  half_thickness_mm: number;
  diffusivity_mm2_s: number;
  modulus_GPa: number;
  poisson: number;
  expansion_per_K: number;
}

export interface SlabStress {
  centre_minus_surface_K: number;
  surface_stress_MPa: number;
  centre_stress_MPa: number;
}

const cells = 20;
/** Explicit step as a part of Δx²/κ: stable up to 0.5 (H. S. Carslaw and J. C. Jaeger, 2nd ed., ch. 18). */
const stepPart = 0.4;
/** Simpson's weights: exact for a parabola. */
const weights = Array.from({ length: cells + 1 }, (_, k) => (k === 0 || k === cells ? 1 : k % 2 ? 4 : 2) / (3 * cells));
const meanOf = (values: readonly number[]) => values.reduce((sum, v, k) => sum + v * (weights[k] as number), 0);

/**
 * Relaxation time in s of a stiffening glass, log-linear through 10¹² Pa·s at the annealing point (here 560 °C) and
 * 10^13.5 Pa·s at the strain point (here 510 °C), the viscosities of ASTM C336; Maxwell's τ = η/G.
 */
function relaxation_s(temperature_C: number, slab: OracleSlab): number {
  const shear_Pa = (slab.modulus_GPa * 1e9) / (2 * (1 + slab.poisson));
  return 10 ** (12 + (1.5 * (560 - temperature_C)) / 50) / shear_Pa;
}

/**
 * Half a slab in layers: explicit finite differences for the heat; each layer elastic and, where it `relaxes`, a
 * Maxwell body; the layers share one strain, and their forces balance. It starts even and free of stress at
 * `from_C`, the face then falls at an even rate to `to_C` and is held there until the slab is even again.
 */
export function coolSlab(
  slab: OracleSlab,
  rate_K_h: number,
  { from_C, to_C, relaxes }: { from_C: number; to_C: number; relaxes: boolean },
): { cooling: SlabStress; cold: SlabStress } {
  const step_s = (stepPart * (slab.half_thickness_mm / cells) ** 2) / slab.diffusivity_mm2_s;
  const held_MPa_K = (1000 * slab.modulus_GPa * slab.expansion_per_K) / (1 - slab.poisson);
  let heat: number[] = new Array(cells + 1).fill(from_C);
  let stress: number[] = new Array(cells + 1).fill(0);
  const advance = (face_C: number) => {
    const next = heat.map((T, k) => {
      if (k === cells) return face_C;
      const inner = heat[k === 0 ? 1 : k - 1] as number;
      return T + stepPart * (inner - 2 * T + (heat[k + 1] as number));
    });
    const kept = stress.map((s, k) => (relaxes ? s * Math.exp(-step_s / relaxation_s(next[k] as number, slab)) : s));
    // Each layer is held back from its own shrinking; what is over is the common strain.
    const held = kept.map((s, k) => s - held_MPa_K * ((next[k] as number) - (heat[k] as number)));
    const over = meanOf(held);
    stress = held.map((s) => s - over);
    heat = next;
  };
  const state = (): SlabStress => ({
    centre_minus_surface_K: (heat[0] as number) - (heat[cells] as number),
    surface_stress_MPa: stress[cells] as number,
    centre_stress_MPa: stress[0] as number,
  });
  const steps = Math.round(((from_C - to_C) / rate_K_h) * (3600 / step_s));
  for (let n = 1; n <= steps; n++) advance(from_C - ((from_C - to_C) * n) / steps);
  const cooling = state();
  // After four times a²/κ a thousandth of a per cent of the difference is left.
  for (let n = 0; n < (4 * cells ** 2) / stepPart; n++) advance(to_C);
  return { cooling, cold: state() };
}
