import type { Answer } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { changesOf, isBeforeChange } from './core-changes.ts';
import { latest } from './latest.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

/** An item of a check sheet as it stands at one station. */
export interface CheckAnswer {
  readonly answer: Answer;
  /** The entry that gives the answer. */
  readonly by: Kept<'check'>;
}

/** What stands of one item, by station. */
export type CheckedStations = ReadonlyMap<string, CheckAnswer>;

const badness: { readonly [A in Answer]: number } = { yes: 0, 'not-applicable': 1, no: 2 };
const NOTHING: CheckedStations = new Map();

/**
 * What is answered of an operation's items station by station. An answer takes the place of those that its writer knew
 * of; where two did not know of each other the worse one rules. What was seen of a core that was taken out is gone with it.
 */
export function checkedStations(view: View, operation: string, item: string): CheckedStations {
  return checks(view, operation).get(item) ?? NOTHING;
}

function checks(view: View, operation: string): ReadonlyMap<string, CheckedStations> {
  return view.memo.get(`check/${operation}`, () => {
    const entries = live(view, `check/${operation}`, 'check');
    const items = [...new Set(entries.map((e) => e.body.item))];
    return new Map(
      items.map((item) => [
        item,
        answersOf(
          view,
          entries.filter((e) => e.body.item === item),
        ),
      ]),
    );
  });
}

function answersOf(view: View, entries: readonly Kept<'check'>[]): CheckedStations {
  const at = new Map<string, Kept<'check'>[]>();
  for (const entry of [...entries].sort(byTime)) {
    for (const station of entry.body.stations) {
      const said = at.get(station);
      if (said) said.push(entry);
      else at.set(station, [entry]);
    }
  }
  const answers = new Map<string, CheckAnswer>();
  for (const [station, said] of at) {
    const changes = changesOf(view, station);
    const standing = said.filter((e) => !changes.some((change) => isBeforeChange(view, anyKind(e), change)));
    const worst = latest(view, standing).reduce<Kept<'check'> | null>(
      (a, b) => (a === null || badness[b.body.answer] >= badness[a.body.answer] ? b : a),
      null,
    );
    if (worst) answers.set(station, { answer: worst.body.answer, by: worst });
  }
  return answers;
}
