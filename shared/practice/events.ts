import type { Body, Kind } from '../logbook/kinds.ts';
import type { View } from '../logbook/state/view.ts';
import type { CrewKey, TabletIndex } from './crew.ts';

/** What is known when an entry is written: hashes of those before it, and the casting as its tablet sees it. */
export interface Known {
  /** The hash of the entry that was written under this key. @throws {Error} when there is none yet. */
  hashOf(key: string): string;
  view(): View;
}

/** An entry that somebody writes at a moment. */
export interface Writing<K extends Kind = Kind> {
  readonly tablet: TabletIndex;
  /** When it is recorded, ms since 1970. */
  readonly at: number;
  /** When it was observed, where that was earlier. */
  readonly observedAt?: number;
  readonly by: CrewKey;
  readonly kind: K;
  /** A function where it names entries or the state that stand only when it is written. */
  readonly body: Body<K> | ((known: Known) => Body<K>);
  /** Whether it is written at all, where that is known only then. */
  readonly only?: (known: Known) => boolean;
  /** A name under which later entries find its hash. */
  readonly key?: string;
}

/** A tablet takes what the other has written so far. */
export interface Merging {
  readonly tablet: TabletIndex;
  readonly at: number;
  readonly kind: 'merge';
}

export type PracticeEvent = { [K in Kind]: Writing<K> }[Kind] | Merging;

/** Both tablets take each other's entries. */
export const exchange = (at: number): PracticeEvent[] => [
  { tablet: 0, at, kind: 'merge' },
  { tablet: 1, at, kind: 'merge' },
];

/** What happened, in the order in which it happened; at one moment in the order in which it is listed. */
export const inOrder = (events: readonly PracticeEvent[]): PracticeEvent[] => [...events].sort((a, b) => a.at - b.at);
