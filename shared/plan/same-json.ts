export type Json = unknown;
export type Row = Readonly<Record<string, Json>>;

export const isRow = (value: Json): value is Row =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Whether two parts of a plan are alike, whatever order their keys are in. */
export function sameJson(a: Json, b: Json): boolean {
  if (a === b) return true;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((v, i) => sameJson(v, b[i]));
  if (!isRow(a) || !isRow(b)) return false;
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].every((key) => sameJson(a[key], b[key]));
}
