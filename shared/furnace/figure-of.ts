/** A figure as it stands in a sentence: so many decimals, and a true minus. */
export const figureOf = (value: number, decimals: number): string => value.toFixed(decimals).replace('-', '\u2212');
