import type { Answer, Body, EntryWay } from '../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../shared/logbook/log.ts';

/** Why a saved answer is answered again. */
export type Change = 'mistyped' | 'checked again';

/** One item as it was answered in this go. */
export interface Filled {
  readonly item: string;
  readonly answer: Answer;
  readonly words: string;
  /** Left out for an item that had no answer yet. */
  readonly change?: Change;
}

/** Who saw it, how it came in, and when; no time means now. */
export interface Seen {
  readonly observer: string;
  readonly way: EntryWay;
  readonly observedAt?: string;
}

export interface SheetEntry {
  readonly body: Body<'sheet'>;
  readonly observedAt?: string;
}

interface Sheet {
  readonly operation: string;
  readonly part?: string | undefined;
  readonly plan: string;
  /** The entries of this sheet that stand. */
  readonly current: readonly Kept<'sheet'>[];
}

/**
 * The entries that put a go of answers into the log. An entry is replaced whole, so what stays of a replaced one is
 * written again under its own observer and time; a mistyped answer keeps those too, one checked again does not.
 */
export function sheetEntries(sheet: Sheet, filled: readonly Filled[], seen: Seen): SheetEntry[] {
  const replaced = sheet.current.filter((entry) =>
    entry.body.answers.some((a) => filled.some((f) => f.item === a.item)),
  );
  const base = { operation: sheet.operation, ...(sheet.part ? { part: sheet.part } : {}), plan: sheet.plan };
  const now = filled.filter((f) => f.change !== 'mistyped');
  const again = replaced.filter((e) => e.body.answers.some((a) => now.some((f) => f.item === a.item)));
  const own: SheetEntry[] =
    now.length === 0
      ? []
      : [
          {
            body: {
              ...base,
              answers: now.map((f) => answerOf(f, sheet.current)),
              observer: seen.observer,
              way: seen.way,
              ...(again.length > 0 ? { replaces: again.map((e) => e.hash) } : {}),
            },
            ...(seen.observedAt ? { observedAt: seen.observedAt } : {}),
          },
        ];
  return [...own, ...replaced.flatMap((entry) => rest(entry, base, filled, sheet.current))];
}

/** What stays of a replaced entry, with its mistyped answers put right. */
function rest(
  entry: Kept<'sheet'>,
  base: Pick<Body<'sheet'>, 'operation' | 'part' | 'plan'>,
  filled: readonly Filled[],
  current: readonly Kept<'sheet'>[],
): SheetEntry[] {
  const answers = entry.body.answers.flatMap((a) => {
    const fill = filled.find((f) => f.item === a.item);
    if (!fill) return [a];
    return fill.change === 'mistyped' ? [answerOf(fill, current)] : [];
  });
  if (answers.length === 0) return [];
  const { observer, way } = entry.body;
  return [{ body: { ...base, answers, observer, way, replaces: [entry.hash] }, observedAt: entry.entry.observedAt }];
}

const spoken: { readonly [A in Answer]: string } = { yes: 'yes', no: 'no', 'not-applicable': 'not applicable' };

/** A changed answer says in words what it was. */
function answerOf(fill: Filled, current: readonly Kept<'sheet'>[]): Body<'sheet'>['answers'][number] {
  const before = current.flatMap((e) => e.body.answers).find((a) => a.item === fill.item);
  const change = fill.change && before ? [`${fill.change}, was ${spoken[before.answer]}`] : [];
  const words = [...change, ...(fill.words.trim() ? [fill.words.trim()] : [])].join('; ');
  return { item: fill.item, answer: fill.answer, ...(words ? { words } : {}) };
}
