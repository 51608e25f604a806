import { type Draft, useDraft } from '../../app/use-draft.ts';

/** A temperature as typed, with its unit and the time at which it was typed. */
export interface TypedTemperature {
  readonly text: string;
  readonly unit: string;
  readonly at: string;
}

/**
 * The unit of a figure after its text has changed: one that is typed on, or rubbed out from its end, keeps its unit; one
 * put in its place has today's.
 */
export function unitTyped(before: Pick<TypedTemperature, 'text' | 'unit'> | null, text: string, today: string): string {
  if (!before?.text || text === '') return today;
  const grown = text.startsWith(before.text);
  const rubbed = before.text.slice(0, -1) === text;
  return grown || rubbed ? before.unit : today;
}

/** What is being done at a station that is measured already. */
export type Redo = { readonly mode: 'again' | 'correct'; readonly target: string };

/** Everything of a pass that is typed or chosen and not yet in an entry. */
export interface PassDraft {
  /** The station worked on. */
  readonly station: string | null;
  /** Typed and not entered, by station. */
  readonly texts: Readonly<Record<string, string>>;
  /** The unit in which each text was begun: it stays when another person, with other units, goes on. */
  readonly textUnits: Readonly<Record<string, string>>;
  readonly redo: Readonly<Record<string, Redo>>;
  readonly reason: string;
  readonly reasonWords: string;
  readonly part: TypedTemperature | null;
  readonly scale: TypedTemperature | null;
  /** An instrument's id, null for none, undefined while nobody has chosen. */
  readonly instrument?: string | null;
  /** Who reads, where it is not the person at the tablet. */
  readonly observer: string | null;
  /** Date and time that stand on the paper, while typing from it. */
  readonly paper: { readonly date: string; readonly time: string } | null;
  /** Stations named as they come, nothing measured there yet. */
  readonly named: readonly string[];
}

const EMPTY: PassDraft = {
  station: null,
  texts: {},
  textUnits: {},
  redo: {},
  reason: 'mistyped',
  reasonWords: '',
  part: null,
  scale: null,
  observer: null,
  paper: null,
  named: [],
};

/** The draft of one survey. What was chosen alone holds no update back: it is there again after it. */
export const usePassDraft = (operation: string, characteristic: string): Draft<PassDraft> =>
  useDraft(`survey/${operation}/${characteristic}`, EMPTY, {
    holds: ({ texts }) => Object.values(texts).some((text) => text !== ''),
  });
