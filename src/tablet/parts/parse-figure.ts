/**
 * Reads what a person or a gauge typed: decimal comma or point, spaces between thousands, a hyphen or a true minus.
 * Returns null for anything that is not one plain figure; the typed text stays with the caller.
 * "1.234,5" and "1,234.5" are refused: two different marks leave it open which one is the decimal mark.
 */
export function parseFigure(typed: string): number | null {
  const text = typed.replace(/[\s\u00a0\u2009\u202f]/g, '').replace('\u2212', '-');
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return null;
  return Number(text.replace(',', '.'));
}
