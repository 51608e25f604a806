import { type Draft, useDraft } from '../../app/use-draft.ts';

/** What a person says of a channel that is not good, in this round. */
export interface Said {
  readonly state: 'good' | 'suspect' | 'dead';
  readonly reason: string;
  readonly substitute: string | null;
}

/** Everything of a round that is typed or chosen and not yet in an entry. */
export interface RoundDraft {
  /** The channel worked on. */
  readonly at: string | null;
  /** Text and unit as typed, by channel. */
  readonly texts: Readonly<Record<string, { readonly text: string; readonly unit: string }>>;
  readonly said: Readonly<Record<string, Said>>;
  /** An unlikely text that the person let stand, by channel. */
  readonly stands: Readonly<Record<string, string>>;
  /** Channels that a gauge typed. */
  readonly gauge: Readonly<Record<string, true>>;
  /** A new sensor's name, by the name of the one that it replaces. */
  readonly replaced: Readonly<Record<string, string>>;
  /** The unit in which thermocouples of a type are typed. */
  readonly units: Readonly<Record<string, string>>;
  /** Groups that are not walked; null as the heat has it. */
  readonly leftOut: readonly string[] | null;
  /** When the first figure was typed. */
  readonly begunAt: string | null;
  readonly observer: string | null;
  /** Date and time that stand on the paper, while typing from it. */
  readonly paper: { readonly date: string; readonly time: string } | null;
  readonly words: string;
}

const EMPTY: RoundDraft = {
  at: null,
  texts: {},
  said: {},
  stands: {},
  gauge: {},
  replaced: {},
  units: {},
  leftOut: null,
  begunAt: null,
  observer: null,
  paper: null,
  words: '',
};

/** The draft of the round at hand, or of a missed one that is typed later, each by itself. */
export const useRoundDraft = (heat: string, missed: number | null): Draft<RoundDraft> =>
  useDraft(`round/${heat}${missed === null ? '' : `/${missed}`}`, EMPTY, { holds: holdsSomething });

/** Whether something typed or said would be lost without the draft. */
export const holdsSomething = ({ texts, said }: RoundDraft): boolean =>
  Object.values(texts).some((t) => t.text !== '') || Object.keys(said).length > 0;
