/** A corner of a heat's plan, with the band that holds from there. */
export interface PlanCorner {
  readonly at_ms: number;
  readonly planned_C: number;
  readonly band_K: number;
}

/** What plans want at rising instants; null between heats. */
export function plannedOn(heats: readonly (readonly PlanCorner[])[], instants: readonly number[]) {
  const planned: (number | null)[] = new Array(instants.length).fill(null);
  const low: (number | null)[] = new Array(instants.length).fill(null);
  const high: (number | null)[] = new Array(instants.length).fill(null);
  for (const corners of heats) {
    let at = 0;
    for (let i = 0; i < instants.length; i++) {
      const t = instants[i]!;
      if (t < corners[0]!.at_ms || t > corners.at(-1)!.at_ms) continue;
      while (at < corners.length - 2 && corners[at + 1]!.at_ms <= t) at += 1;
      const [a, b] = [corners[at]!, corners[at + 1]!];
      const share = b.at_ms > a.at_ms ? (t - a.at_ms) / (b.at_ms - a.at_ms) : 1;
      const wanted = a.planned_C + share * (b.planned_C - a.planned_C);
      planned[i] = wanted;
      low[i] = wanted - a.band_K;
      high[i] = wanted + a.band_K;
    }
  }
  return { planned, low, high };
}
