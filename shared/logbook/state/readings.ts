import type { Verdict } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { live, strikesOf } from './strikes.ts';
import { anyKind, type View } from './view.ts';

export const readingScope = (operation: string, characteristic: string): string =>
  `reading/${operation}/${characteristic}`;

/** What is known of one station: the readings that stand, and all that were ever taken there. */
export interface StationState {
  readonly station: string;
  /** Live and not replaced: usually one; where neither names the other both stand. */
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

/** The verdict worked out again, or the worse of the two where it differs from the one that was shown. */
export function verdictOf(view: View, { body }: Kept<'reading'>): Verdict | null {
  const again = view.judge?.verdict(body.value, body.standardUncertainty, body.limits.lower, body.limits.upper) ?? null;
  return worst([body.verdict, again]);
}

/** By station, all that was measured of a characteristic in an operation. */
export function stationStates(
  view: View,
  operation: string,
  characteristic: string,
): ReadonlyMap<string, StationState> {
  return view.memo.get(`stations/${operation}/${characteristic}/${view.judge !== null}`, () => {
    const scope = readingScope(operation, characteristic);
    const standing = live(view, scope, 'reading');
    const replaced = new Set(standing.flatMap((r) => (r.body.replaces ? [r.body.replaces] : [])));
    const all = view.log.inScope<'reading'>(scope).sort(byTime);
    const stations = new Map<string, StationState>();
    for (const station of new Set(all.map((r) => r.body.station))) {
      const current = standing.filter((r) => r.body.station === station && !replaced.has(r.hash)).sort(byTime);
      const history = all.filter((r) => r.body.station === station);
      stations.set(station, { station, current, history, verdict: worst(current.map((r) => verdictOf(view, r))) });
    }
    return stations;
  });
}

/** The value that stands at a station: of several the latest, for drawing. */
export const currentValue = (state: StationState | undefined): number | null =>
  state?.current.at(-1)?.body.value ?? null;

/** Oldest first, by the clock that orders for display. */
export const byTime = (a: { entry: Kept['entry']; hash: string }, b: { entry: Kept['entry']; hash: string }): number =>
  a.entry.clock[0] - b.entry.clock[0] || a.entry.clock[1] - b.entry.clock[1] || (a.hash < b.hash ? -1 : 1);

export const isReplaced = (view: View, reading: Kept<'reading'>): boolean =>
  live(view, readingScope(reading.body.operation, reading.body.characteristic), 'reading').some(
    (r) => r.body.replaces === reading.hash,
  );

export const isStruckReading = (view: View, reading: Kept<'reading'>): boolean =>
  strikesOf(view, anyKind(reading)).length > 0;
