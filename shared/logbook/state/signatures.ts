import type { Hold } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { merkleRoot } from '../merkle.ts';
import { changedSince } from './core-changes.ts';
import { evidenceHashes } from './hold-scope.ts';
import { questionOf } from './instruments.ts';
import { setLimitsOf } from './limit-setters.ts';
import { byTime, keptVerdict } from './readings.ts';
import { happenedBefore } from './sequence.ts';
import { live, strikesOf } from './strikes.ts';
import { anyKind, type View, viewUnder } from './view.ts';

/** Why a release no longer says what its signer had seen, or never did. */
export type Doubt =
  | {
      readonly reason: 'came-later' | 'judged-again' | 'lost-standing' | 'core-changed' | 'instrument-bad';
      readonly entry: Kept;
    }
  | { readonly reason: 'struck'; readonly entry: Kept; readonly strike: Kept }
  /** A refusal that nobody in its role has signed over. */
  | { readonly reason: 'refused'; readonly entry: Kept }
  /** The entry is the release: what it lists is not all here. */
  | { readonly reason: 'not-here'; readonly entry: Kept; readonly count: number }
  /** The entry is the release: the root that it names is not that of what it lists. */
  | { readonly reason: 'root-differs'; readonly entry: Kept }
  /** The entry is the release: what it lists was not enough to sign on. */
  | { readonly reason: 'not-carried'; readonly entry: Kept; readonly lacks: readonly string[] };

export interface Signature {
  readonly release: Kept<'release'>;
  readonly doubts: readonly Doubt[];
}

/** What was signed and refused at a hold point, and what comes of it. */
export interface Signed {
  readonly outcome: 'released' | 'in-doubt' | null;
  /** Every live signature in a role that the hold point asks for, oldest first. */
  readonly all: readonly Signature[];
  /** The signatures by all roles that released it, or did once; null while there never were. */
  readonly set: readonly Signature[] | null;
  /** Sets that released it once and have fallen into doubt, also where it was signed again since. */
  readonly fallen: readonly (readonly Signature[])[];
  readonly refusals: readonly Kept<'refusal'>[];
  /** Why it is in doubt; empty where it is not. */
  readonly doubts: readonly Doubt[];
}

export const signedOf = (view: View, hold: Hold): Signed =>
  view.memo.get(`signed/${hold.id}/${view.judge !== null}`, () => workOut(view, hold));

export const isReleased =
  (view: View) =>
  (hold: Hold): boolean =>
    signedOf(view, hold).outcome === 'released';

function workOut(view: View, hold: Hold): Signed {
  const all = signaturesOf(view, hold);
  const undoubted = all.filter((s) => s.doubts.length === 0);
  const [sound] = completeSets(view, hold, undoubted);
  const refusals = openRefusals(view, hold);
  const fallen = completeSets(view, hold, all).filter((set) => !sound || rootIn(set) !== rootIn(sound));
  const set = sound ?? fallen.at(-1) ?? null;
  const signed = { all, set, fallen, refusals };
  if (set === null || (sound && refusals.length === 0)) return { outcome: set && 'released', ...signed, doubts: [] };
  const refused = refusals.map((entry): Doubt => ({ reason: 'refused', entry: anyKind(entry) }));
  return { outcome: 'in-doubt', ...signed, doubts: distinct([...refused, ...set.flatMap((s) => s.doubts)]) };
}

const rootIn = (set: readonly Signature[]): string => basisOf(set[0]!);

/** What signatures must share to stand together: the evidence, and the revision that judges it. */
const basisOf = ({ release: { body } }: Signature): string => `${body.evidenceHash}/${body.plan}`;

/** Whether a set of signatures stood when an entry was made, as far as anyone can tell. */
export const stoodBefore = (view: View, set: readonly Signature[], entry: Kept): boolean =>
  set.every((s) => happenedBefore(view, anyKind(s.release), entry));

const distinct = (doubts: readonly Doubt[]): Doubt[] => [
  ...new Map(doubts.map((d) => [`${d.reason}/${d.entry.hash}`, d])).values(),
];

/** A hold point as it was signed, in the casting judged by the revision that it was signed under: a release keeps that. */
interface AsSigned {
  readonly view: View;
  readonly hold: Hold;
}

/** Null where the revision that a release names is not here, does not count, or has no such hold point. */
function asSigned(view: View, { body }: Kept<'release'>): AsSigned | null {
  const hold = view.plans.get(body.plan)?.holds.find((h) => h.id === body.hold);
  return hold ? { view: viewUnder(view, body.plan), hold } : null;
}

const NO_REVISION = 'the plan revision that it names is not here, or does not count';

function signaturesOf(view: View, hold: Hold): Signature[] {
  return live(view, `hold/${hold.id}`, 'release')
    .sort(byTime)
    .flatMap((release): Signature[] => {
      const signed = asSigned(view, release);
      if (!(signed?.hold ?? hold).roles.includes(release.body.role)) return [];
      const without: Doubt = { reason: 'not-carried', entry: anyKind(release), lacks: [NO_REVISION] };
      return [{ release, doubts: signed ? doubtsOf(signed, release) : [without] }];
    });
}

/**
 * Signatures over one evidence under one revision by all its roles, different persons, one of whom neither read nor
 * wrote any of it.
 */
function completeSets(view: View, hold: Hold, signed: readonly Signature[]): Signature[][] {
  const bases = [...new Set(signed.map(basisOf))];
  return bases.flatMap((basis) => {
    const set = signed.filter((s) => basisOf(s) === basis);
    const then = asSigned(view, set[0]!.release) ?? { view, hold };
    const chosen = assign(then.hold.roles, set, [], (some) => hasIndependent(then, some));
    return chosen ? [chosen] : [];
  });
}

/**
 * What was released, entry by entry, with the revision that it was released under: that one goes on judging it. Where
 * several hold points stand on one entry the first of the plan does.
 */
export const releasedWork = (view: View): ReadonlyMap<string, string> =>
  view.memo.get(`released work/${view.judge !== null}`, () => {
    const released = new Map<string, string>();
    for (const hold of view.plan.holds) {
      const { outcome, set } = signedOf(view, hold);
      const body = outcome === 'released' ? set?.[0]?.release.body : undefined;
      for (const hash of body?.evidence ?? []) if (!released.has(hash)) released.set(hash, body!.plan);
    }
    return released;
  });

const hasIndependent = ({ view, hold }: AsSigned, set: readonly Signature[]): boolean =>
  set.some(({ release }) => isIndependent(view, hold, release.entry.by, release.body.evidence));

/** One signature a role, each by another person, as a whole as it is wanted; null where that cannot be done. */
function assign(
  roles: readonly string[],
  set: readonly Signature[],
  chosen: readonly Signature[],
  wanted: (all: readonly Signature[]) => boolean,
): Signature[] | null {
  const [role, ...rest] = roles;
  if (role === undefined) return wanted(chosen) ? [...chosen] : null;
  for (const s of set) {
    const { body, entry } = s.release;
    if (body.role !== role || chosen.some((c) => c.release.entry.by === entry.by)) continue;
    const all = assign(rest, set, [...chosen, s], wanted);
    if (all) return all;
  }
  return null;
}

/** Kinds that somebody saw something for. */
const OBSERVED: ReadonlySet<string> = new Set(['reading', 'round', 'sheet', 'check', 'core', 'core-change']);

/** Whether a person took and wrote none of the readings, rounds, sheets and checks in the evidence, and set no limit of it. */
export const isIndependent = (view: View, hold: Hold, person: string, evidence: readonly string[]): boolean =>
  !setLimitsOf(view, hold, person) && observedNone(view, person, evidence);

function observedNone(view: View, person: string, evidence: readonly string[]): boolean {
  return evidence.every((hash) => {
    const kept = view.log.get(hash);
    if (!kept || !OBSERVED.has(kept.entry.kind)) return true;
    return kept.entry.by !== person && (kept.body as { observer?: string }).observer !== person;
  });
}

/**
 * The rule of doubt: evidence that the signer's tablet did not have and that was not made in knowledge of the release,
 * evidence that has fallen since, and a release that was not carried by what it lists.
 */
function doubtsOf({ view, hold }: AsSigned, release: Kept<'release'>): Doubt[] {
  const { covers } = bound(view);
  const listed = new Set(release.body.evidence);
  const changes = changesSince(view, listed);
  const unseen = evidenceHashes(view, hold)
    .map((hash) => view.log.get(hash)!)
    .filter((kept) => !listed.has(kept.hash) && !covers(kept, anyKind(release)))
    .filter((kept) => !changes.has(kept.hash))
    // A strike of something listed is told as that.
    .filter((kept) => !(kept.kind === 'strike' && listed.has((kept.body as { target: string }).target)))
    .map((entry): Doubt => ({ reason: 'came-later', entry }));
  const fallen = release.body.evidence.flatMap((hash): Doubt[] => {
    const entry = view.log.get(hash);
    if (!entry) return [];
    if (!view.standing.counts(entry)) return [{ reason: 'lost-standing', entry }];
    const strike = strikesOf(view, entry).find((s) => !listed.has(s.hash));
    if (strike) return [{ reason: 'struck', entry, strike: anyKind(strike) }];
    const question = entry.kind === 'reading' ? questionOf(view, entry as unknown as Kept<'reading'>) : null;
    if (question && !listed.has(question.by)) return [{ reason: 'instrument-bad', entry }];
    return judgedAgain(view, entry) ? [{ reason: 'judged-again', entry }] : [];
  });
  const changed = [...changes.values()].map((entry): Doubt => ({ reason: 'core-changed', entry }));
  const since = [...fallen, ...changed, ...unseen];
  return since.length > 0 ? since : ownDoubts(view, hold, release);
}

/** By hash, the changes since that took out a core whose readings are in the evidence. */
function changesSince(view: View, listed: ReadonlySet<string>): ReadonlyMap<string, Kept> {
  const changes = new Map<string, Kept>();
  if (view.log.scopeNames('core/').length === 0) return changes;
  for (const hash of listed) {
    const kept = view.log.get(hash);
    if (kept?.kind !== 'reading') continue;
    for (const change of changedSince(view, kept as unknown as Kept<'reading'>))
      if (!listed.has(change.hash)) changes.set(change.hash, anyKind(change));
  }
  return changes;
}

/**
 * What is wrong with the release itself: each of these a tablet would have refused to sign. Asked where nothing has
 * come or fallen since, so that the evidence is as it was signed.
 */
function ownDoubts(view: View, hold: Hold, release: Kept<'release'>): Doubt[] {
  const entry = anyKind(release);
  const { evidence, evidenceHash } = release.body;
  const away = evidence.filter((hash) => !view.log.get(hash)).length;
  if (away > 0) return [{ reason: 'not-here', entry, count: away }];
  if (rootOf(release) !== evidenceHash) return [{ reason: 'root-differs', entry }];
  // The rules that this takes are loaded with the judge, after the first screen.
  const lacks = view.judge?.lackedBy(view, hold, release) ?? [];
  return lacks.length > 0 ? [{ reason: 'not-carried', entry, lacks }] : [];
}

/** A release never changes, and so its root: worked out once. */
const roots = new WeakMap<Kept<'release'>, string>();

function rootOf(release: Kept<'release'>): string {
  const found = roots.get(release);
  if (found !== undefined) return found;
  const root = merkleRoot(release.body.evidence);
  roots.set(release, root);
  return root;
}

const bound = (view: View) => ({ covers: (a: Kept, b: Kept) => view.standing.knowledge.covers(a, b) });

/** Whether a verdict comes out otherwise than it was shown, by the limits that were shown with it. */
function judgedAgain(view: View, entry: Kept): boolean {
  if (entry.kind !== 'reading') return false;
  const { body } = entry as unknown as Kept<'reading'>;
  return keptVerdict(view, body) !== body.verdict;
}

/** Refusals that nobody in that role has signed over since. */
function openRefusals(view: View, hold: Hold): Kept<'refusal'>[] {
  const releases = live(view, `hold/${hold.id}`, 'release');
  return live(view, `hold/${hold.id}`, 'refusal').filter(
    (refusal) =>
      !releases.some(
        (r) => r.body.role === refusal.body.role && view.standing.knowledge.covers(anyKind(r), anyKind(refusal)),
      ),
  );
}
