import type { LimitsAt } from '../../plan/lookup.ts';
import type { Characteristic, Hold, Requirement } from '../../plan/schema.ts';
import type { Verdict } from '../kinds.ts';
import type { Kept } from '../log.ts';
import type { Fact } from './findings.ts';
import type { RoundsMet } from './rounds-met.ts';
import type { View } from './view.ts';

/** How many standard uncertainties guard each limit: 95 % on one side (ISO 14253-1). */
export const GUARD_FACTOR = 1.65;

/** The place of a range over all stations, where the plan limits that too. */
export const RANGE = 'range';

/** A value worked out from readings, judged like one. */
export interface DerivedValue {
  readonly station: string;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly limits: { readonly nominal: number | null; readonly lower: number | null; readonly upper: number | null };
  readonly verdict: Verdict | null;
  /** The readings that it comes from. */
  readonly causes: readonly string[];
  /** The named calculation that gave it, with what was put in; left out where it is a plain difference or mean. */
  readonly worked?: { readonly calculation: string; readonly input: Readonly<Record<string, unknown>> };
}

/** A value before it is judged. */
export type Raw = Pick<DerivedValue, 'station' | 'value' | 'causes' | 'worked'>;

/** Works verdicts and derived values out again; the tablet loads it after the first screen stands. */
export interface Judge {
  /** The limits that judge a reading. */
  limits(view: View, reading: Kept<'reading'>): LimitsAt;
  verdict(value: number, standardUncertainty: number, lower: number | null, upper: number | null): Verdict | null;
  /**
   * The values of a derived characteristic in an operation; empty while its readings are not complete, null where no
   * derivation is known and a person enters the value.
   */
  derive(view: View, characteristic: string, operation: string): readonly DerivedValue[] | null;
  /** Greatest less least over all stations, where the plan limits that; null while a station is missing. */
  range(view: View, characteristic: string, operation: string): DerivedValue | null;
  /** The stations drawn where a sample is read; null where all are, or any so many will do. */
  sample(view: View, characteristic: Characteristic, operation: string): readonly string[] | null;
  /** How far the rounds of a heat meet what a hold point asks of them. */
  rounds(view: View, hold: Hold, need: Requirement & { kind: 'rounds' }): RoundsMet;
  /** What a release lacked on the evidence that it lists, in words. */
  lackedBy(view: View, hold: Hold, release: Kept<'release'>): readonly string[];
  /** What is found about the rounds of an operation, and which alarms of the plan held in it. */
  roundFacts(view: View, operation: string): readonly Fact[];
  /** What was done on an operation before that which must precede it, behind a doubt, or with something left undone. */
  orderFacts(view: View, operation: string): readonly Fact[];
  /** What is found about the temporary arrangements of an operation. */
  arrangementFacts(view: View, operation: string): readonly Fact[];
  /** What was answered no at stations of an operation. */
  checkFacts(view: View, operation: string): readonly Fact[];
}
