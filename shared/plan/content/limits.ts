import type { Characteristic, Limits } from '../schema.ts';

/** What limits may carry besides their numbers. */
type Besides = Omit<Limits, 'nominal' | 'lower' | 'upper'>;

/** To so many decimals, without a negative zero. */
export const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals)) + 0;

export const atMost = (upper: number, besides: Besides = {}): Limits => ({
  nominal: null,
  lower: null,
  upper,
  ...besides,
});

export const atLeast = (lower: number, besides: Besides = {}): Limits => ({
  nominal: null,
  lower,
  upper: null,
  ...besides,
});

/** A magnitude that should be nothing: 0 wanted, so much allowed. */
export const zeroTo = (upper: number, besides: Besides = {}): Limits => ({
  nominal: 0,
  lower: null,
  upper,
  ...besides,
});

export const between = (nominal: number | null, lower: number, upper: number, besides: Besides = {}): Limits => ({
  nominal,
  lower,
  upper,
  ...besides,
});

/** Nominal and a tolerance on both sides, without noise of binary fractions. */
export const plusMinus = (nominal: number, tolerance: number, besides: Besides = {}): Limits =>
  between(nominal, rounded(nominal - tolerance, 6), rounded(nominal + tolerance, 6), besides);

/** No number limits it; the remark says what does. */
export const noLimit = (remark: string, besides: Besides = {}): Limits => ({
  nominal: null,
  lower: null,
  upper: null,
  remark,
  ...besides,
});

/** A characteristic as the table says it; what most share is filled in. */
export type CharacteristicRow = Omit<
  Characteristic,
  'kind' | 'stations' | 'limits' | 'uncertainty' | 'instruments' | 'sampling' | 'source'
> &
  Partial<Characteristic>;

/** Our own choice for practice, no production instruction. */
const OUR_CHOICE = 'our choice';

export const row = (c: CharacteristicRow): Characteristic => ({
  kind: 'measured',
  stations: null,
  limits: [],
  uncertainty: null,
  instruments: [],
  sampling: all,
  source: OUR_CHOICE,
  ...c,
});

/** Nominal or limits follow from the design of the blank; tolerances are our own choice for practice. */
export const FROM_DESIGN = 'the design';

export const all: Characteristic['sampling'] = { all: true, words: 'all' };
export const inWords = (words: string): Characteristic['sampling'] => ({ all: true, words });
/** Read again and again as something moves: every reading stands. */
export const repeated = (words: string): Characteristic['sampling'] => ({ all: true, words, repeated: true });
/** A sample of so many; the plan's sampling rule says how it is drawn. */
export const drawn = (count: number): Characteristic['sampling'] => ({ all: false, count, words: `plan ${count}` });
