/** Where the lower and upper limit stand on every strip, as fractions of its width, so that strips compare. */
export const LOWER_POST = 0.206;
export const UPPER_POST = 0.794;
const BETWEEN = UPPER_POST - LOWER_POST;
const MIDDLE = 0.5;
/** A width that no drawing can part: less than a nanometre in mm. */
const TINY = 1e-6;

/** What a strip shows. All numbers in one unit. */
export type StripInput = {
  value: number | null;
  lower: number | null;
  upper: number | null;
  nominal: number | null;
  /** Half width of the uncertain zone at a limit: guard factor times standard uncertainty; 0 or more. */
  guard: number;
  superseded?: { lower: number | null; upper: number | null } | undefined;
  /** With one limit only: the width that two limits would span. Left out, it is guessed from nominal and guard. */
  span?: number | undefined;
};

/** A stretch of the base line, from and to as fractions of the width. */
export type Stretch = { from: number; to: number };

/** Everything on a strip as fractions of its width. */
export type StripScale = {
  kind: 'two' | 'upper' | 'lower' | 'none';
  posts: number[];
  /** The ink bar from lower to upper acceptance; null where the guard leaves no room. */
  clear: Stretch | null;
  hatch: Stretch[];
  nominal: number | null;
  whisker: Stretch | null;
  /** Place of the diamond, held inside the strip; null when not measured. */
  diamond: number | null;
  /** Past which end the value lies, if it lies past one. */
  off: 'low' | 'high' | null;
  /** Posts of limits that a plan revision has replaced. */
  superseded: number[];
};

const inside = (fraction: number): boolean => fraction >= 0 && fraction <= 1;
const clamp = (fraction: number): number => Math.min(1, Math.max(0, fraction));
const given = (...values: (number | null | undefined)[]): number[] =>
  values.filter((v) => v !== null && v !== undefined);

function kindOf({ lower, upper }: StripInput): StripScale['kind'] {
  if (lower !== null && upper !== null) return upper - lower > TINY ? 'two' : 'upper';
  if (upper !== null) return 'upper';
  return lower === null ? 'none' : 'lower';
}

/** The width that stands between the posts, in units of the value. */
function spanOf(input: StripInput, kind: StripScale['kind']): number {
  const { lower, upper, nominal, guard, span } = input;
  if (kind === 'two') return upper! - lower!;
  if (span !== undefined && span > TINY) return span;
  const limit = upper ?? lower;
  const guesses =
    limit === null ? [9 * guard] : [2 * Math.abs(limit - (nominal ?? limit)), Math.max(8 * guard, Math.abs(limit) / 4)];
  return guesses.find((guess) => guess > TINY) ?? 1;
}

/** A value whose place is fixed, and that place. */
function anchorOf({ lower, upper, nominal, value }: StripInput, kind: StripScale['kind']): [number, number] {
  if (kind === 'upper') return [upper!, UPPER_POST];
  if (kind === 'none') return [nominal ?? value ?? 0, MIDDLE];
  return [lower!, LOWER_POST];
}

function hatchOf(posts: number[], guard: number): Stretch[] {
  if (guard <= 0) return [];
  const zones = posts.map((post) => ({ from: clamp(post - guard), to: clamp(post + guard) }));
  const [low, high] = zones;
  // Two zones that meet are drawn as one, so that their hatch is not laid twice.
  if (low && high && low.to >= high.from) return [{ from: low.from, to: high.to }];
  return zones;
}

function clearOf(kind: StripScale['kind'], posts: number[], guard: number): Stretch | null {
  if (kind === 'none') return null;
  const from = kind === 'upper' ? 0 : posts[0]! + guard;
  const to = kind === 'lower' ? 1 : posts.at(-1)! - guard;
  return to > from ? { from: clamp(from), to: clamp(to) } : null;
}

/**
 * Lays a strip out. The verdict is no part of it: that is worked out by the conformity calculation, never from places.
 * Two limits that are equal or crossed are drawn as one upper limit.
 */
export function stripScale(input: StripInput): StripScale {
  const kind = kindOf(input);
  const perUnit = BETWEEN / spanOf(input, kind);
  const [anchor, anchorPlace] = anchorOf(input, kind);
  const place = (v: number) => anchorPlace + (v - anchor) * perUnit;
  const at = (v: number | null) => (v === null ? null : place(v));
  const posts = given(kind === 'upper' ? null : at(input.lower), kind === 'lower' ? null : at(input.upper));
  const guard = kind === 'none' ? 0 : input.guard * perUnit;
  const raw = at(input.value);
  const off = raw === null || inside(raw) ? null : raw < 0 ? 'low' : 'high';
  const nominal = at(input.nominal);
  return {
    kind,
    posts,
    clear: clearOf(kind, posts, guard),
    hatch: hatchOf(posts, guard),
    nominal: nominal !== null && inside(nominal) && kind !== 'none' ? nominal : null,
    whisker:
      input.value === null || off || input.guard <= 0
        ? null
        : { from: clamp(place(input.value - input.guard)), to: clamp(place(input.value + input.guard)) },
    diamond: raw === null ? null : clamp(raw),
    off,
    superseded: given(at(input.superseded?.lower ?? null), at(input.superseded?.upper ?? null)).filter(inside),
  };
}
