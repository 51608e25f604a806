import type { LimitsAt } from '../../plan/lookup.ts';
import type { Body, Verdict } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { byTime } from './by-time.ts';
import { isOfCoreTakenOut } from './core-changes.ts';
import { questionOf } from './instruments.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

export { byTime } from './by-time.ts';

export const readingScope = (operation: string, characteristic: string): string =>
  `reading/${operation}/${characteristic}`;

/** What is known of one station: the readings that stand, and all that were ever taken there. */
export interface StationState {
  readonly station: string;
  /** Live, not replaced and of no core that was taken out: usually one; where neither names the other both stand. */
  readonly current: readonly Kept<'reading'>[];
  /** Struck and replaced ones too, oldest first. */
  readonly history: readonly Kept<'reading'>[];
  /** The worst of the current readings; null where nothing stands or nothing limits it. */
  readonly verdict: Verdict | null;
}

const badness: { readonly [V in Verdict]: number } = { within: 0, 'not-proven': 1, outside: 2 };

/** The worse verdict rules; null where there is none. */
export const worst = (verdicts: readonly (Verdict | null)[]): Verdict | null =>
  verdicts.reduce<Verdict | null>((a, b) => (b === null ? a : a === null || badness[b] > badness[a] ? b : a), null);

/** A reading never changes, and so its verdict by the limits that it kept: worked out once. */
const judged = new WeakMap<Body<'reading'>, Verdict | null>();

/** The verdict by the limits that the reader was shown, worked out again; the worse of the two where they differ. */
export function keptVerdict(view: View, body: Body<'reading'>): Verdict | null {
  if (!view.judge) return body.verdict;
  const found = judged.get(body);
  if (found !== undefined) return found;
  const again = view.judge.verdict(body.value, body.standardUncertainty, body.limits.lower, body.limits.upper);
  const verdict = worst([body.verdict, again]);
  judged.set(body, verdict);
  return verdict;
}

/**
 * The limits that judge a reading: open work is judged by the plan in force, what was released by the revision that it
 * was released under.
 */
export const limitsOf = (view: View, reading: Kept<'reading'>): LimitsAt =>
  view.judge?.limits(view, reading) ?? reading.body.limits;

/** Whether other limits judge a reading than those that its reader was shown. */
export const isRejudged = (view: View, reading: Kept<'reading'>): boolean =>
  !sameLimits(limitsOf(view, reading), reading.body.limits);

export const sameLimits = (a: LimitsAt, b: LimitsAt): boolean =>
  a.nominal === b.nominal && a.lower === b.lower && a.upper === b.upper;

/** The verdict that counts: read with an instrument that was found bad, nothing is proven. */
export const verdictOf = (view: View, reading: Kept<'reading'>): Verdict | null =>
  questionOf(view, reading) ? worst([figuresVerdict(view, reading), 'not-proven']) : figuresVerdict(view, reading);

/** The verdict by the figures alone: worked out again, by the limits that judge the reading. */
export function figuresVerdict(view: View, reading: Kept<'reading'>): Verdict | null {
  const { body } = reading;
  if (!view.judge || !isRejudged(view, reading)) return keptVerdict(view, body);
  const { lower, upper } = limitsOf(view, reading);
  return view.judge.verdict(body.value, body.standardUncertainty, lower, upper);
}

/** By station, all that was measured of a characteristic in an operation. */
export function stationStates(
  view: View,
  operation: string,
  characteristic: string,
): ReadonlyMap<string, StationState> {
  return view.memo.get(
    `stations/${operation}/${characteristic}/${view.judge !== null}`,
    () =>
      new Map(
        view.log.scopeNames(`station/${operation}/${characteristic}/`).map((scope) => {
          const state = stationState(view, scope);
          return [state.station, state];
        }),
      ),
  );
}

/** One station by its scope, kept apart from its neighbours: a reading changes its own station only. */
export function stationState(view: View, scope: string): StationState {
  return view.memo.get(`${scope}/${view.judge !== null}`, () => {
    const history = view.log.inScope<'reading'>(scope).sort(byTime);
    const replaced = replacedIn(view, scope);
    const current = live(view, scope, 'reading')
      .filter((r) => !replaced.has(r.hash) && !isOfCoreTakenOut(view, r))
      .sort(byTime);
    const { station } = history[0]!.body;
    return { station, current, history, verdict: worst(current.map((r) => verdictOf(view, r))) };
  });
}

/** The value that stands at a station: of several the latest, for drawing. */
export const currentValue = (state: StationState | undefined): number | null =>
  state?.current.at(-1)?.body.value ?? null;

/** Whether a live reading of the same station names this one as replaced. */
export const isReplaced = (view: View, { hash, body }: Kept<'reading'>): boolean =>
  replacedIn(view, `station/${body.operation}/${body.characteristic}/${body.station}`).has(hash);

const replacedIn = (view: View, scope: string): ReadonlySet<string> =>
  view.memo.get(
    `replaced/${scope}`,
    () => new Set(live(view, scope, 'reading').flatMap((r) => (r.body.replaces ? [r.body.replaces] : []))),
  );
