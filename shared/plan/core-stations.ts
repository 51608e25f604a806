import type { Characteristic, Plan } from './schema.ts';

/** The station sets of the whole cores and of those cut to the round at the edge; their ids are addresses. */
export const CORES = 'C';
export const EDGE_CORES = 'edge-cores';

/** Whether a characteristic is measured at cores, or at pairs of them. */
export const isOfCores = (plan: Plan, { stations }: Pick<Characteristic, 'stations'>): boolean =>
  stations === CORES || stations === EDGE_CORES || (stations !== null && plan.pairSets?.[stations]?.of === CORES);

/** The addresses of the cores that a station belongs to: one, or for a gap the two beside it. */
export const coresAt = (station: string): readonly string[] => station.split('@')[0]!.split('-');

/** Addresses in words: `3.1 to 3.18`, `2.4`, in the order in which they come. */
export function addressWords(addresses: readonly string[]): string {
  const runs: [first: string, last: string][] = [];
  for (const address of addresses) {
    const run = runs.at(-1);
    if (run && follows(run[1], address)) run[1] = address;
    else runs.push([address, address]);
  }
  return runs.map(([first, last]) => (first === last ? first : `${first} to ${last}`)).join(', ');
}

function follows(before: string, address: string): boolean {
  const [ring, number] = before.split('.');
  return address === `${ring}.${Number(number) + 1}`;
}
