import { signal } from '@preact/signals';
import type { Severity } from '../../../shared/logbook/kinds.ts';
import type { Person } from '../../../shared/logbook/standing.ts';
import type { FindingState } from '../../../shared/logbook/state/findings.ts';
import type { Hall } from '../../../shared/logbook/state/hall.ts';
import type { HoldStatus } from '../../../shared/logbook/state/holds.ts';
import type { HeatRound } from '../../../shared/logbook/state/rounds.ts';
import type { FrameFacts } from './frame-facts.ts';

/** A piece of work to go to, in words. */
export interface WorkFacts {
  readonly id: string;
  readonly lead: string;
  readonly title: string;
  readonly step: string;
  readonly href: string;
  readonly button: string;
  /** Names of its cautions, and the sentence that closes them; empty where there are none. */
  readonly cautions: string;
}

export interface HoldFacts {
  readonly id: string;
  readonly name: string;
  readonly status: HoldStatus;
  readonly words: string;
  /** What is missing, or what changed since it was signed. */
  readonly lines: readonly string[];
  readonly more: number;
}

export interface FindingFacts {
  readonly id: string;
  readonly title: string;
  readonly severity: Severity;
  readonly state: FindingState;
  readonly operation: string;
  readonly blocks: string | null;
}

export interface HeatFacts {
  readonly operation: string;
  /** How many had been missed when this was worked out. */
  readonly missed: number;
  /** Those that were not missed then. */
  readonly rounds: readonly HeatRound[];
}

export interface ArrangementFacts {
  readonly id: string;
  readonly what: string;
  readonly owner: string;
  readonly endsAt_ms: number | null;
  readonly endsWhen: string | null;
}

export interface HandoverFacts {
  readonly hash: string;
  readonly title: string;
  readonly words: string;
  readonly refused: boolean;
}

/** What the first screen says, as plain data: kept beside the log, so that a start need not read the log first. */
export interface NowShard {
  readonly frame: FrameFacts;
  readonly people: readonly Person[];
  /** The rounds of the heat that runs which nobody has written; their times are judged by the clock when shown. */
  readonly heat: HeatFacts | null;
  readonly next: WorkFacts | null;
  readonly also: readonly WorkFacts[];
  readonly alsoMore: number;
  readonly holds: readonly HoldFacts[];
  readonly findings: readonly FindingFacts[];
  readonly findingsMore: number;
  readonly hall: Hall | null;
  /** Those that are open; whether they are past their end is judged by the clock when shown. */
  readonly arrangements: readonly ArrangementFacts[];
  /** Those that nobody has accepted. */
  readonly handovers: readonly HandoverFacts[];
}

/** The first screen as it was kept, for while the log is being read; null when there is none that fits the log. */
export const nowShard = signal<NowShard | null>(null);
