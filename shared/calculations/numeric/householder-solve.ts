/**
 * Least squares by Householder reflections: the x that keeps |A x − b| least.
 * @param columns of A, all as long as b; they are written over.
 * @returns null where the columns depend on each other to rounding.
 */
export function householderSolve(columns: Float64Array[], b: Float64Array): number[] | null {
  const rows = b.length;
  const count = columns.length;
  const rest = Float64Array.from(b);
  const diagonal: number[] = [];
  const size = columns.map((column) => norm(column, 0));
  for (let k = 0; k < count; k++) {
    const column = columns[k]!;
    const length = norm(column, k);
    if (!(length > 1e-12 * size[k]!)) return null;
    const end = column[k]! > 0 ? -length : length;
    diagonal.push(end);
    // The column below k becomes the mirror's normal.
    column[k] = column[k]! - end;
    const square = -end * column[k]!;
    for (const target of [...columns.slice(k + 1), rest]) {
      let along = 0;
      for (let i = k; i < rows; i++) along += column[i]! * target[i]!;
      along /= square;
      for (let i = k; i < rows; i++) target[i] = target[i]! - along * column[i]!;
    }
  }
  const x = new Array<number>(count).fill(0);
  for (let k = count - 1; k >= 0; k--) {
    let sum = rest[k]!;
    for (let j = k + 1; j < count; j++) sum -= columns[j]![k]! * x[j]!;
    x[k] = sum / diagonal[k]!;
  }
  return x;
}

function norm(column: Float64Array, from: number): number {
  let square = 0;
  for (let i = from; i < column.length; i++) square += column[i]! * column[i]!;
  return Math.sqrt(square);
}
