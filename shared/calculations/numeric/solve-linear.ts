/**
 * Solves A x = b for a small square A by elimination with row pivoting and row scaling.
 * @returns null where A is singular to the precision of the numbers.
 */
export function solveLinear(a: readonly (readonly number[])[], b: readonly number[]): number[] | null {
  const n = b.length;
  const m = a.map((row, i) => {
    const scale = Math.max(...row.map(Math.abs));
    return scale > 0 ? [...row, b[i]!].map((x) => x / scale) : null;
  });
  if (m.includes(null)) return null;
  const rows = m as number[][];
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    if (!(Math.abs(rows[pivot]![k]!) > Number.EPSILON)) return null;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i]![k]! / rows[k]![k]!;
      for (let j = k; j <= n; j++) rows[i]![j] = rows[i]![j]! - factor * rows[k]![j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let sum = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) sum -= rows[i]![j]! * x[j]!;
    x[i] = sum / rows[i]![i]!;
  }
  return x;
}
