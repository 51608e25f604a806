import { useState } from 'preact/hooks';
import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { saveAnswers } from '../../acts/sheets.ts';
import type { Draft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { someone } from '../../app/who.ts';
import { entriesOfPart, filledOf, type SheetDraft, seenOf } from './sheet-draft.ts';

/** What stands between the answers and their saving, and where it is said. */
export interface Problem {
  readonly at: 'words' | 'seen';
  readonly words: string;
  readonly items: readonly string[];
}

export interface Answers {
  /** How many answers are not saved yet. */
  readonly count: number;
  readonly problem: Problem | null;
  readonly save: () => Promise<void>;
}

/** Saves the answers of this go. An answer of no without words is asked about once, then kept as it is. */
export function useAnswers(view: View, state: OperationState, draft: Draft<SheetDraft>): Answers {
  const [problem, tell] = useState<Problem | null>(null);
  const { value } = draft;
  const filled = filledOf(value);
  const isBare = (item: string) => filled.some((f) => f.item === item && f.answer === 'no' && f.words.trim() === '');
  const answered = problem?.at === 'words' && !problem.items.some(isBare);
  const save = async () => {
    const who = await someone();
    if (!who || filled.length === 0) return;
    const bare = filled.map((f) => f.item).filter(isBare);
    if (bare.some((item) => !problem?.items.includes(item))) {
      tell({ at: 'words', words: 'Say what is not so, or save once more without words.', items: bare });
      document.getElementById(wordsId(bare[0]!))?.focus();
      return;
    }
    const seen = seenOf(value, who.id, view.genesis.timeZone, new Date());
    if ('fault' in seen) {
      tell({ at: 'seen', words: seen.fault, items: bare });
      document.getElementById(DATE_ID)?.focus();
      return;
    }
    const current = entriesOfPart(state.sheet.entries, value.part);
    const saving = saveAnswers(state.operation.id, value.part || undefined, current, filled, seen);
    if (!(await wasKept(saving))) return;
    tell(null);
    void draft.clear();
    if (value.part) draft.change({ part: value.part });
  };
  return { count: filled.length, problem: answered ? null : problem, save };
}

export const wordsId = (item: string): string => `words-${item}`;
export const DATE_ID = 'observed-date';
