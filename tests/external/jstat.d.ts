/** The parts of jstat that serve as an oracle. */
declare module 'jstat' {
  const jstat: {
    mean(values: number[]): number;
    stdev(values: number[], sample: boolean): number;
    normal: { cdf(x: number, mean: number, deviation: number): number };
    studentt: { inv(probability: number, freedom: number): number };
  };
  export default jstat;
}
