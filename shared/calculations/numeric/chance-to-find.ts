/**
 * The chance that a sample without replacement finds at least one nonconforming piece of a lot: 1 − C(N−d, n)/C(N, n),
 * the hypergeometric distribution.
 *
 * @param lot pieces in the lot
 * @param sample pieces drawn
 * @param bad nonconforming ones in the lot
 */
export function chanceToFind(lot: number, sample: number, bad: number): number {
  if (sample > lot - bad) return bad > 0 ? 1 : 0;
  let missed = 1;
  for (let i = 0; i < bad; i++) missed *= (lot - sample - i) / (lot - i);
  return 1 - missed;
}
