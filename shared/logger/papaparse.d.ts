/** What is used of papaparse; its own types want the DOM and Node, which shared code does without. */
declare module 'papaparse' {
  interface Parsed {
    readonly data: string[][];
    readonly meta: {
      /** How far the text was read: behind the last whole row. */
      readonly cursor: number;
    };
  }
  class Parser {
    constructor(config: { delimiter: string; newline: '\n' | '\r' });
    parse(text: string, baseIndex: number, ignoreLastRow: boolean): Parsed;
  }
  const papa: { readonly Parser: typeof Parser };
  export default papa;
}
