import type { Answer } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { type FilledLine, filledLine } from './filled-line.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

export interface ItemState {
  readonly item: string;
  /** The worst answer that stands: no before not applicable before yes; null while nobody has answered. */
  readonly answer: Answer | null;
  readonly words: string | null;
  /** The entry that gives the answer for the whole. */
  readonly by: Kept<'sheet'> | null;
  /** What fills the line station by station, whether or not somebody answered it for the whole. */
  readonly filled: FilledLine | null;
}

export interface SheetState {
  readonly operation: string;
  readonly items: readonly ItemState[];
  readonly answered: number;
  readonly complete: boolean;
  readonly noes: readonly ItemState[];
  readonly entries: readonly Kept<'sheet'>[];
}

const badness: { readonly [A in Answer]: number } = { yes: 0, 'not-applicable': 1, no: 2 };

/**
 * A check sheet as all entries together fill it. Parts filled on two tablets add up; where they differ the worse answer
 * rules. What is answered or read at every station fills its line too.
 */
export function sheetState(view: View, operation: string): SheetState {
  return view.memo.get(`sheet/${operation}/${view.judge !== null}`, () => {
    const entries = currentSheets(view, operation);
    const checks = view.plan.operations.find((o) => o.id === operation)?.checks ?? [];
    const items = checks.map((check) => itemState(check.id, entries, filledLine(view, operation, check)));
    const answered = items.filter((i) => i.answer !== null).length;
    return {
      operation,
      items,
      answered,
      complete: items.length > 0 && answered === items.length,
      noes: items.filter((i) => i.answer === 'no'),
      entries,
    };
  });
}

function currentSheets(view: View, operation: string): Kept<'sheet'>[] {
  const sheets = live(view, `sheet/${operation}`, 'sheet');
  const replaced = new Set(sheets.flatMap((s) => s.body.replaces ?? []));
  return sheets.filter((s) => !replaced.has(s.hash)).sort(byTime);
}

function itemState(item: string, entries: readonly Kept<'sheet'>[], filled: FilledLine | null): ItemState {
  const answers = entries.flatMap((by) =>
    by.body.answers
      .filter((a) => a.item === item)
      .map((a) => ({ item, answer: a.answer, words: a.words ?? null, by, filled })),
  );
  const worst = answers.reduce<ItemState | null>(
    (a, b) => (a === null || badness[b.answer] >= badness[a.answer!] ? b : a),
    null,
  );
  return worst ?? { item, answer: filled?.answer ?? null, words: null, by: null, filled };
}
