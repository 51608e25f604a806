/** The master tables for single sampling, as they are built: sizes a row, acceptance and rejection on diagonals. */

export const CODE_LETTERS = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'Q', 'R'] as const;
export const AQLS = [
  0.01, 0.015, 0.025, 0.04, 0.065, 0.1, 0.15, 0.25, 0.4, 0.65, 1, 1.5, 2.5, 4, 6.5, 10, 15, 25, 40, 65, 100, 150, 250,
  400, 650, 1000,
] as const;

export type Level = 'S-1' | 'S-2' | 'S-3' | 'S-4' | 'I' | 'II' | 'III';

/** Table I: upper end of the lot sizes, then a letter for each level in the order of `Level`. */
const LETTERS_BY_LOT: readonly (readonly [number, string])[] = [
  [8, 'AAAAAAB'],
  [15, 'AAAAABC'],
  [25, 'AABBBCD'],
  [50, 'ABBCCDE'],
  [90, 'BBCCCEF'],
  [150, 'BBCDDFG'],
  [280, 'BCDEEGH'],
  [500, 'BCDEFHJ'],
  [1200, 'CCEFGJK'],
  [3200, 'CDEGHKL'],
  [10_000, 'CDFGJLM'],
  [35_000, 'CDFHKMN'],
  [150_000, 'DEGJLNP'],
  [500_000, 'DEGJMPQ'],
  [Number.POSITIVE_INFINITY, 'DEHKNQR'],
];
export const LEVELS: readonly Level[] = ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'];

/** Row of the code letter of a lot (2 or more pieces) at a level. */
export function letterRow(lotSize: number, level: Level): number {
  const letters = LETTERS_BY_LOT.find(([end]) => lotSize <= end)![1];
  return CODE_LETTERS.indexOf(letters[LEVELS.indexOf(level)] as (typeof CODE_LETTERS)[number]);
}

export type Numbers = readonly [accept: number, reject: number];

interface MasterTable {
  readonly sizes: readonly number[];
  /** The first diagonal (row + column) with numbers. */
  readonly first: number;
  /** Numbers on the diagonals from there on; null is an arrow. */
  readonly diagonals: readonly (Numbers | null)[];
  /** Whether the first arrow after the first diagonal points up; all other arrows point to the nearer numbers. */
  readonly upAfterFirst: boolean;
  /** Rows that leave the pattern: numbers by column. */
  readonly ownRows: Readonly<Record<number, Readonly<Record<number, Numbers>>>>;
}

const tied = (...accepts: readonly number[]): Numbers[] => accepts.map((accept) => [accept, accept + 1]);
const gapped = (...accepts: readonly number[]): Numbers[] => accepts.map((accept) => [accept, accept + 3]);

const SIZES = [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150] as const;

/** From row F on the two largest acceptance numbers give way to arrows. */
const SHORT_FROM = 5;

/** Numbers for the columns from `start` on. */
const columnsFrom = (start: number, numbers: readonly Numbers[]): Record<number, Numbers> =>
  Object.fromEntries(numbers.map((pair, k) => [start + k, pair]));

const NORMAL: MasterTable = {
  sizes: SIZES.slice(0, 16),
  first: 14,
  diagonals: [[0, 1], null, null, ...tied(1, 2, 3, 5, 7, 10, 14, 21, 30, 44)],
  upAfterFirst: true,
  ownRows: {},
};

const TIGHTENED: MasterTable = {
  // The row below R is letter S, which only arrows reach.
  sizes: SIZES,
  first: 15,
  diagonals: [[0, 1], null, null, ...tied(1, 2, 3, 5, 8, 12, 18, 27, 41)],
  upAfterFirst: false,
  ownRows: { 0: columnsFrom(18, tied(1, 2, 3, 5, 8, 12, 18, 27)) },
};

const REDUCED: MasterTable = {
  sizes: [2, 2, 2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800],
  first: 14,
  diagonals: [[0, 1], null, null, [0, 2], [1, 3], [1, 4], ...gapped(2, 3, 5, 7, 10, 14, 21)],
  upAfterFirst: true,
  ownRows: {
    0: { 14: [0, 1], ...columnsFrom(17, tied(1, 2, 3, 5, 7, 10, 14, 21, 30)) },
    1: {
      13: [0, 1],
      ...columnsFrom(16, [[0, 2], [1, 3], [2, 4], [3, 5], ...tied(5, 7, 10, 14, 21, 30)]),
    },
  },
};

const TABLES = { normal: NORMAL, tightened: TIGHTENED, reduced: REDUCED } as const;
export type Inspection = keyof typeof TABLES;

function numbersAt(table: MasterTable, row: number, column: number): Numbers | null {
  const own = table.ownRows[row];
  if (own !== undefined) return own[column] ?? null;
  const diagonal = row + column - table.first;
  if (row >= SHORT_FROM && diagonal >= table.diagonals.length - 2) return null;
  return table.diagonals[diagonal] ?? null;
}

export interface SamplePlan {
  readonly size: number;
  readonly numbers: Numbers;
  /** Rows that the arrows led down, negative for up. */
  readonly moved: number;
}

/** The plan of a row and an AQL column, arrows followed: with the numbers the sample size changes too. */
export function samplePlan(inspection: Inspection, row: number, column: number): SamplePlan {
  const table = TABLES[inspection];
  const follow = (step: 1 | -1): SamplePlan | null => {
    for (let at = row; at >= 0 && at < table.sizes.length; at += step) {
      const numbers = numbersAt(table, at, column);
      if (numbers !== null) return { size: table.sizes[at]!, numbers, moved: at - row };
    }
    return null;
  };
  const diagonal = row + column - table.first;
  const up = diagonal > 2 || (diagonal === 1 && table.upAfterFirst);
  // At the edge of the table the arrow turns round.
  return up ? (follow(-1) ?? follow(1)!) : (follow(1) ?? follow(-1)!);
}
