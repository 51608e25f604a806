import type { Answer } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import type { Change, Filled, Seen } from '../../acts/sheet-entries.ts';
import { readObserved } from '../../app/observed-at.ts';
import { isoWithOffset } from '../../app/time.ts';

/** What is filled in on a check sheet and not saved yet. */
export interface SheetDraft {
  readonly answers: Readonly<Record<string, FilledItem>>;
  /** Which lot, crate, shift … of an operation with a sheet for each. */
  readonly part: string;
  /** Empty: the person at the tablet. */
  readonly observer: string;
  readonly paper: boolean;
  readonly date: string;
  readonly time: string;
}

export interface FilledItem {
  readonly answer: Answer | null;
  readonly words: string;
  /** Set while a saved answer is answered again. */
  readonly change?: Change | undefined;
}

export const emptySheet: SheetDraft = { answers: {}, part: '', observer: '', paper: false, date: '', time: '' };

/** The items that have an answer in this go. */
export const filledOf = (draft: SheetDraft): Filled[] =>
  Object.entries(draft.answers).flatMap(([item, { answer, words, change }]) =>
    answer === null ? [] : [{ item, answer, words, ...(change ? { change } : {}) }],
  );

/** The entries that stand for one part of an operation's sheets. */
export const entriesOfPart = (entries: readonly Kept<'sheet'>[], part: string): Kept<'sheet'>[] =>
  entries.filter((entry) => (entry.body.part ?? '') === part);

/** What was saved for an item, oldest first: usually one, several where two tablets answered it. */
export const savedOf = (entries: readonly Kept<'sheet'>[], item: string) =>
  entries.flatMap((entry) => entry.body.answers.filter((a) => a.item === item).map((answer) => ({ answer, entry })));

/** Who saw it and when, or why that cannot be. */
export function seenOf(draft: SheetDraft, person: string, timeZone: string, now: Date): Seen | { fault: string } {
  const observer = draft.observer || person;
  if (!draft.paper) return { observer, way: 'keypad' };
  const observed = readObserved(draft.date, draft.time, timeZone, now);
  return 'fault' in observed ? observed : { observer, way: 'paper', observedAt: isoWithOffset(observed.at) };
}
