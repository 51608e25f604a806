/** Straight line by least squares, worked about the means so that a large offset costs no digits. */
export interface LineFit {
  slope: number;
  meanX: number;
  meanY: number;
  /** Value at x = 0. */
  intercept: number;
  /** Sum of the squared residuals. */
  residualSquares: number;
  /** Standard error of the slope; null where two points leave nothing over to judge by. */
  slopeError: number | null;
  /** Standard deviation of the points about the line; null likewise. */
  residualDeviation: number | null;
}

/** `xs` must hold two different values. Source: least squares as in GUM (JCGM 100:2008) H.3. */
export function fitLine(xs: readonly number[], ys: readonly number[]): LineFit {
  const x = centre(xs);
  const y = centre(ys);
  const sxx = sumOf(x.parts, (d) => d * d);
  const ratio = sumOf(x.parts, (d, k) => d * (y.parts[k] as number)) / sxx;
  const squares = sumOf(x.parts, (d, k) => ((y.parts[k] as number) - ratio * d) ** 2);
  const slope = ratio * (y.scale / x.scale);
  const deviation = xs.length > 2 ? Math.sqrt(squares / (xs.length - 2)) * y.scale : null;
  return {
    slope,
    meanX: x.mean,
    meanY: y.mean,
    intercept: y.mean - slope * x.mean,
    residualSquares: squares * y.scale * y.scale,
    slopeError: deviation === null ? null : deviation / Math.sqrt(sxx) / x.scale,
    residualDeviation: deviation,
  };
}

/** Values about their mean, as parts of the largest, so that squares neither overflow nor vanish. */
function centre(values: readonly number[]): { mean: number; scale: number; parts: number[] } {
  const first = values[0] ?? 0;
  const shift = sumOf(values, (v) => (v - first) / values.length);
  const about = values.map((v) => v - first - shift);
  const scale = about.reduce((most, d) => Math.max(most, Math.abs(d)), 0) || 1;
  return { mean: first + shift, scale, parts: about.map((d) => d / scale) };
}

const sumOf = (values: readonly number[], term: (value: number, index: number) => number): number =>
  values.reduce((sum, value, index) => sum + term(value, index), 0);
