import type { Body, Kind } from '../../kinds.ts';
import type { Kept } from '../../log.ts';
import { clockTime, dateIn, dayAndTime } from '../../time-words.ts';
import type { HandoverState } from '../handovers.ts';
import type { View } from '../view.ts';

export type HandoverLine = Body<'handover'>['items'][number]['lines'][number];

/** What every line of a handover is worked out from. */
export interface Preparing {
  readonly view: View;
  readonly now_ms: number;
  /** The accepted handover that it goes on from. */
  readonly before: HandoverState | null;
  /** When that was prepared; null for the first. */
  readonly since_ms: number | null;
  /** Every entry that counts and that the outgoing lead of that one could not know of, oldest first. */
  readonly fresh: readonly Kept[];
}

/** Hashes that a line carries at most: beyond them it says how many more there are. */
export const LISTED = 100;

/** The screens that a line may name where it says that there is nothing of a kind. */
export type Place = 'findings' | 'arrangements' | 'instruments' | 'tablets' | 'sequence';

/** What a line rests on besides entries. */
export interface Where {
  readonly operation?: string;
  readonly hold?: string;
  readonly finding?: string;
  readonly place?: Place;
  readonly searched?: Kind[];
}

/** A line with the entries that it was worked out from. A line that has none says what else it rests on. */
export function line(
  text: string,
  entries: readonly { readonly hash: string }[] | readonly string[],
  where: Where = {},
): HandoverLine {
  const hashes = [...new Set(entries.map((e) => (typeof e === 'string' ? e : e.hash)))];
  const more = hashes.length - LISTED;
  return { text, entries: hashes.slice(0, LISTED), ...(more > 0 ? { more } : {}), ...where };
}

/** The first lines; those beyond them as one, which keeps their entries and names the place where all of them stand. */
export function atMost(most: number, lines: readonly HandoverLine[], where: Where = {}): HandoverLine[] {
  if (lines.length <= most) return [...lines];
  const rest = lines.slice(most - 1);
  return [
    ...lines.slice(0, most - 1),
    line(
      `And ${rest.length} more.`,
      rest.flatMap((l) => l.entries),
      where,
    ),
  ];
}

/** Of one kind among the entries since the last handover. */
export const freshOf = <K extends Kind>({ fresh }: Preparing, kind: K): Kept<K>[] =>
  fresh.filter((kept) => kept.kind === kind) as unknown as Kept<K>[];

/** `05:30` on the day on which the handover is prepared, else `day 43, 22:10`. */
export function when({ view, now_ms }: Preparing, at: number | string): string {
  const { timeZone, dayOne } = view.genesis;
  const date = new Date(at);
  return dateIn(date, timeZone) === dateIn(new Date(now_ms), timeZone)
    ? clockTime(date, timeZone)
    : dayAndTime(date, dayOne, timeZone);
}

/** `since 22:05`, or `since the start of the casting`. */
export const sinceWords = (p: Preparing): string =>
  p.since_ms === null ? 'since the start of the casting' : `since ${when(p, p.since_ms)}`;

export const nameOf = (view: View, person: string): string =>
  view.standing.person(person)?.name ?? 'somebody not admitted';

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Words that end as a sentence does. */
export const sentence = (words: string): string => (/[.!?…]$/.test(words) ? words : `${words}.`);

/** A figure with a true minus; differences carry their sign. */
export function figure(value: number, decimals: number, signed = false): string {
  const text = Math.abs(value).toFixed(decimals);
  const sign = Number(text) === 0 ? '' : value < 0 ? '−' : signed ? '+' : '';
  return `${sign}${text}`;
}
