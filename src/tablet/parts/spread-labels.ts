/** Labels at the ends of lines, pushed apart so that none covers another. */
export function spreadLabels(wanted: readonly number[], apart: number, low: number, high: number): number[] {
  const order = wanted.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y);
  let floor = low;
  for (const label of order) {
    label.y = Math.max(label.y, floor);
    floor = label.y + apart;
  }
  let ceiling = high;
  for (const label of [...order].reverse()) {
    label.y = Math.min(label.y, ceiling);
    ceiling = label.y - apart;
  }
  const placed: number[] = [];
  for (const { y, i } of order) placed[i] = y;
  return placed;
}
