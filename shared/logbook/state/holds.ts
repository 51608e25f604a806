import type { Hold } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { type Condition, conditionsOf } from './conditions.ts';
import { evidenceHashes, evidenceRoot } from './hold-scope.ts';
import { type Doubt, isReleased, type Signature, type Signed, signedOf } from './signatures.ts';
import { type View, viewUnder } from './view.ts';

export type HoldStatus = 'open' | 'ready' | 'released' | 'in-doubt';

export interface HoldState {
  readonly hold: Hold;
  readonly status: HoldStatus;
  /** The revision that it was released under, by its hash: it goes on judging what was released; null until then. */
  readonly signedUnder: string | null;
  readonly conditions: readonly Condition[];
  readonly missing: readonly Condition[];
  /** What a signature now would cover: sorted hashes, and their RFC 9162 root. */
  readonly evidence: readonly string[];
  readonly evidenceHash: string;
  /** Live signatures over the evidence as it stands, or over the evidence that was released. */
  readonly signatures: readonly Signature[];
  /** Live signatures over other evidence: signed again if they are still wanted. */
  readonly stale: readonly Signature[];
  readonly refusals: readonly Kept<'refusal'>[];
  /** Why it is in doubt; empty where it is not. */
  readonly doubts: readonly Doubt[];
  /** Every role has signed, and yet it is not released: one person signed for two, or nobody independent did. */
  readonly unsound: 'one-person' | 'nobody-independent' | null;
  readonly rolesOpen: readonly string[];
}

export function holdState(view: View, hold: Hold): HoldState {
  return view.memo.get(`hold/${hold.id}/${view.judge !== null}`, () => workOut(view, hold));
}

export const holdById = (view: View, id: string): Hold | null => view.plan.holds.find((h) => h.id === id) ?? null;

/** The hold point that stands before everything else that is still to do. */
export const nextHold = (view: View): HoldState | null =>
  view.plan.holds.map((h) => holdState(view, h)).find((s) => s.status !== 'released') ?? null;

function workOut(view: View, hold: Hold): HoldState {
  const signed = signedOf(view, hold);
  const signedUnder = signed.outcome === 'released' ? signed.set![0]!.release.body.plan : null;
  const judging = signedUnder === null ? view : viewUnder(view, signedUnder);
  const conditions = () => conditionsNow(judging, judging.plan.holds.find((h) => h.id === hold.id) ?? hold);
  const missing = () => conditions().filter((c) => !c.met);
  const signatures = standingSignatures(view, hold, signed);
  const rolesOpen = signedUnder
    ? []
    : hold.roles.filter((role) => !signatures.some((s) => s.release.body.role === role));
  const unsound = signed.outcome === 'released' || rolesOpen.length > 0 ? null : unsoundness(hold, signatures);
  return {
    hold,
    status: signed.outcome ?? (missing().length === 0 ? 'ready' : 'open'),
    signedUnder,
    get conditions() {
      return conditions();
    },
    get missing() {
      return missing();
    },
    get evidence() {
      return evidenceHashes(view, hold);
    },
    get evidenceHash() {
      return evidenceRoot(view, hold);
    },
    signatures,
    stale: signed.all.filter((s) => !signatures.includes(s)),
    refusals: signed.refusals,
    doubts: signed.doubts,
    unsound,
    // Another person may sign in any of them.
    rolesOpen: unsound ? hold.roles : rolesOpen,
  };
}

function unsoundness(hold: Hold, signatures: readonly Signature[]): HoldState['unsound'] {
  const persons = new Set(signatures.map((s) => s.release.entry.by));
  return persons.size < hold.roles.length ? 'one-person' : 'nobody-independent';
}

/** Those that released it, else those over the evidence as it stands. */
function standingSignatures(view: View, hold: Hold, { outcome, set, all }: Signed): readonly Signature[] {
  if (outcome === 'released') return set!;
  const undoubted = all.filter((s) => s.doubts.length === 0 && s.release.body.plan === view.planHash);
  // The root of thousands of entries is worked out only where a signature is to be held against it.
  return undoubted.filter((s) => s.release.body.evidenceHash === evidenceRoot(view, hold));
}

/** What a hold point asks for, with what stands, by the plan of the view. */
export const conditionsNow = (view: View, hold: Hold): readonly Condition[] =>
  view.memo.get(`conditions/${hold.id}/${view.judge !== null}`, () =>
    conditionsOf(view, hold, (id) => releasedById(view, id)),
  );

function releasedById(view: View, id: string): boolean {
  const hold = holdById(view, id);
  return hold !== null && isReleased(view)(hold);
}
