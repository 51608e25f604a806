import type { Kept } from '../log.ts';
import { latest } from './latest.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

export { type ArrangementStatus, arrangementStatus } from './arrangement-status.ts';

/** Something arranged for a time, e.g. a bypassed channel or a borrowed gauge. */
export interface Arrangement {
  readonly id: string;
  /** The line that stands. Where two tablets wrote without knowing of each other, the one that ends first rules. */
  readonly line: Kept<'arrangement'>;
  /** All live lines, oldest first. */
  readonly lines: readonly Kept<'arrangement'>[];
  /** When it ends at the latest; null where only a condition was stated. */
  readonly endsAt_ms: number | null;
  /** The entry that says that all is as planned again. */
  readonly ended: Kept<'arrangement-end'> | null;
}

/** Every arrangement of the casting, ended ones too: what ends first stands first, then what waits for a condition. */
export const arrangements = (view: View): readonly Arrangement[] =>
  view.memo.get('arrangements', () =>
    view.log
      .scopeNames('arrangement/')
      .flatMap((scope) => arrangementIn(view, scope) ?? [])
      .sort(byEnd),
  );

export const openArrangements = (view: View): readonly Arrangement[] =>
  arrangements(view).filter((a) => a.ended === null);

export const arrangementById = (view: View, id: string): Arrangement | null => arrangementIn(view, `arrangement/${id}`);

/** Null while an end is here and what it ends has not come. */
const arrangementIn = (view: View, scope: string): Arrangement | null =>
  view.memo.get(scope, () => {
    const lines = live(view, scope, 'arrangement').sort(byTime);
    const line = latest(view, lines).sort(byEndsAt)[0];
    if (!line) return null;
    return {
      id: line.body.arrangement,
      line,
      lines,
      endsAt_ms: line.body.endsAt === null ? null : Date.parse(line.body.endsAt),
      ended: live(view, scope, 'arrangement-end').sort(byObserved)[0] ?? null,
    };
  });

const endOf = ({ body }: Kept<'arrangement'>): number =>
  body.endsAt === null ? Number.POSITIVE_INFINITY : Date.parse(body.endsAt);

/** The difference of two infinities is no number. */
const ascending = (a: number, b: number): number => (a === b ? 0 : a < b ? -1 : 1);

const byHash = (a: { hash: string }, b: { hash: string }): number => (a.hash < b.hash ? -1 : 1);

const byEndsAt = (a: Kept<'arrangement'>, b: Kept<'arrangement'>): number =>
  ascending(endOf(a), endOf(b)) || byHash(a, b);

const byEnd = (a: Arrangement, b: Arrangement): number => byEndsAt(a.line, b.line);

const byObserved = (a: Kept<'arrangement-end'>, b: Kept<'arrangement-end'>): number =>
  ascending(Date.parse(a.entry.observedAt), Date.parse(b.entry.observedAt)) || byHash(a, b);
