/** Sum with the rounding of every addition carried along (Neumaier 1974), for terms that cancel. */
export function carefulSum(terms: Iterable<number>): number {
  let sum = 0;
  let lost = 0;
  for (const term of terms) {
    const next = sum + term;
    lost += Math.abs(sum) >= Math.abs(term) ? sum - next + term : term - next + sum;
    sum = next;
  }
  return sum + lost;
}
