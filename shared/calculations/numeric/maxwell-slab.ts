/**
 * A slab cooled alike from both faces, half of it in layers: heat by Crank and Nicolson's scheme, each layer a Maxwell
 * body, all layers with one strain in their plane and no force over the whole. Layer 0 is the centre.
 */
export interface MaxwellSlab {
  readonly half_thickness_mm: number;
  readonly diffusivity_mm2_s: number;
  /** E α / (1 − ν): stress of a fully held plane for one kelvin. */
  readonly held_MPa_K: number;
  /** How long a plane stress takes to fall to 1/e at a temperature; Infinity where the glass has set. */
  readonly relaxation_s: (temperature_C: number) => number;
  /** Even: Simpson's rule takes two at a time. */
  readonly layers: number;
}

export interface SlabState {
  /** By layer, centre to surface. */
  readonly temperature_C: readonly number[];
  readonly stress_MPa: readonly number[];
}

export interface SlabRun {
  readonly last: SlabState;
  readonly steps: number;
  /** Greatest tension of all layers in the whole run, and the hour at which it stood. */
  readonly greatest_MPa: number;
  readonly greatest_at_h: number;
}

type Reading = { readonly at_h: number; readonly surface_C: number };

/** κΔt/Δx² of the first step after each reading: the face turns there, and the layers below it follow one by one. */
const FIRST_PART = 0.5;
/** Steps grow by this part over the number of layers, each: what is left to follow gets slower. */
const GROWTH = 3;
/** The face moves by no more in one step, over the number of layers: relaxation changes tenfold in some 30 K. */
const STEP_K = 20;

/** How long the steps from one reading to the next are, s. */
interface Pace {
  readonly all_s: number;
  readonly first_s: number;
  readonly growth: number;
  readonly most_s: number;
}

function paceOf({ half_thickness_mm, diffusivity_mm2_s, layers }: MaxwellSlab, from: Reading, to: Reading): Pace {
  const all_s = 3600 * (to.at_h - from.at_h);
  const moves = (Math.abs(to.surface_C - from.surface_C) * layers) / STEP_K;
  return {
    all_s,
    first_s: (FIRST_PART * (half_thickness_mm / layers) ** 2) / diffusivity_mm2_s,
    growth: 1 + GROWTH / layers,
    most_s: all_s / Math.max(1, moves),
  };
}

/** At most so many steps a record of the face takes. */
export const stepsOf = (slab: MaxwellSlab, record: readonly Reading[]): number =>
  record.slice(1).reduce((sum, to, k) => {
    const { all_s, first_s, growth, most_s } = paceOf(slab, record[k]!, to);
    return sum + Math.log1p((all_s / first_s) * (growth - 1)) / Math.log(growth) + all_s / most_s + 2;
  }, 0);

/** The ends of the steps, as parts of the time from one reading to the next. */
function stepEnds({ all_s, first_s, growth, most_s }: Pace): number[] {
  const ends: number[] = [];
  let step_s = first_s;
  for (let at_s = 0; at_s < all_s; step_s *= growth) {
    at_s += Math.min(step_s, most_s);
    // What would be left over for a last, tiny step joins this one.
    if (all_s - at_s < 0.5 * Math.min(step_s, most_s)) at_s = all_s;
    ends.push(at_s / all_s);
  }
  return ends;
}

/** Runs a slab, even and free of stress at first, through a record of its face; straight lines between the readings. */
export function runMaxwellSlab(slab: MaxwellSlab, record: readonly Reading[]): SlabRun {
  const mean = simpson(slab.layers);
  let temperature = new Array<number>(slab.layers + 1).fill(record[0]!.surface_C);
  let stress = new Array<number>(slab.layers + 1).fill(0);
  let steps = 0;
  let greatest_MPa = 0;
  let greatest_at_h = record[0]!.at_h;
  record.slice(1).forEach((to, k) => {
    const from = record[k]!;
    const pace = paceOf(slab, from, to);
    let before = 0;
    for (const part of stepEnds(pace)) {
      const step_s = (part - before) * pace.all_s;
      const next = conducted(slab, temperature, from.surface_C + (to.surface_C - from.surface_C) * part, step_s);
      stress = relaxed(slab, { temperature_C: temperature, stress_MPa: stress }, next, step_s, mean);
      temperature = next;
      before = part;
      steps += 1;
      const most = Math.max(...stress);
      if (most > greatest_MPa) {
        greatest_MPa = most;
        greatest_at_h = from.at_h + (to.at_h - from.at_h) * part;
      }
    }
  });
  return { last: { temperature_C: temperature, stress_MPa: stress }, steps, greatest_MPa, greatest_at_h };
}

/** Mean over the half thickness by Simpson's rule, exact for a parabola. */
export function simpson(layers: number): (values: readonly number[]) => number {
  const weights = Array.from(
    { length: layers + 1 },
    (_, k) => (k === 0 || k === layers ? 1 : k % 2 === 1 ? 4 : 2) / (3 * layers),
  );
  return (values) => values.reduce((sum, v, k) => sum + v * weights[k]!, 0);
}

/** One step of heat: no flow through the centre, the face at its temperature. */
function conducted(slab: MaxwellSlab, now: readonly number[], face_C: number, step_s: number): number[] {
  const { half_thickness_mm, diffusivity_mm2_s, layers } = slab;
  const half = (0.5 * diffusivity_mm2_s * step_s * layers ** 2) / half_thickness_mm ** 2;
  // Thomas's elimination from the centre outwards; the mirror layer beyond the centre equals layer 1.
  const upper: number[] = [];
  const right: number[] = [];
  for (let k = 0; k < layers; k++) {
    const below = k === 0 ? now[1]! : now[k - 1]!;
    const known = now[k]! + half * (below - 2 * now[k]! + now[k + 1]!);
    const lower = k === 0 ? 0 : half;
    const outer = k === 0 ? 2 * half : half;
    const pivot = 1 + 2 * half - (k === 0 ? 0 : lower * upper[k - 1]!);
    upper.push(outer / pivot);
    right.push((known + (k === 0 ? 0 : lower * right[k - 1]!)) / pivot);
  }
  const next = new Array<number>(layers + 1);
  next[layers] = face_C;
  for (let k = layers - 1; k >= 0; k--) next[k] = right[k]! + upper[k]! * next[k + 1]!;
  return next;
}

/**
 * One step of stress, exact for an even rate of strain and an even relaxation time within the step, so that it holds
 * for fluid glass as well as for glass that has set.
 */
function relaxed(
  { held_MPa_K, relaxation_s }: MaxwellSlab,
  { temperature_C, stress_MPa }: SlabState,
  next_C: readonly number[],
  step_s: number,
  mean: (values: readonly number[]) => number,
): number[] {
  const parts = next_C.map((T, k) => step_s / relaxation_s((T + temperature_C[k]!) / 2));
  const kept = parts.map((x) => (x === 0 ? 1 : -Math.expm1(-x) / x));
  const held = stress_MPa.map(
    (s, k) => s * Math.exp(-parts[k]!) - kept[k]! * held_MPa_K * (next_C[k]! - temperature_C[k]!),
  );
  // The common strain that leaves no force over the section.
  const common = mean(held) / mean(kept);
  return held.map((s, k) => s - kept[k]! * common);
}
