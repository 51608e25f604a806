import type { Hold } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { merkleRoot } from '../merkle.ts';
import { type Condition, conditionsOf, operationsOf, usedInstruments } from './conditions.ts';
import { changedSince } from './core-changes.ts';
import { byTime, readingScope, verdictOf } from './readings.ts';
import { withPredecessors } from './sequence.ts';
import { live, strikesOf } from './strikes.ts';
import { anyKind, type View } from './view.ts';

export type HoldStatus = 'open' | 'ready' | 'released' | 'in-doubt';

/** Why a release no longer says what its signer had seen. */
export type Doubt =
  | { readonly reason: 'came-later' | 'judged-again' | 'lost-standing' | 'core-changed'; readonly entry: Kept }
  | { readonly reason: 'struck'; readonly entry: Kept; readonly strike: Kept };

export interface Signature {
  readonly release: Kept<'release'>;
  readonly doubts: readonly Doubt[];
}

export interface HoldState {
  readonly hold: Hold;
  readonly status: HoldStatus;
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
  readonly rolesOpen: readonly string[];
}

export function holdState(view: View, hold: Hold): HoldState {
  return view.memo.get(`hold/${hold.id}/${view.judge !== null}`, () => workOut(view, hold));
}

export const isReleased =
  (view: View) =>
  (hold: Hold): boolean => {
    const { status } = holdState(view, hold);
    return status === 'released';
  };

export const holdById = (view: View, id: string): Hold | null => view.plan.holds.find((h) => h.id === id) ?? null;

/** The hold point that stands before everything else that is still to do. */
export const nextHold = (view: View): HoldState | null =>
  view.plan.holds.map((h) => holdState(view, h)).find((s) => s.status !== 'released') ?? null;

function workOut(view: View, hold: Hold): HoldState {
  const signed = signaturesOf(view, hold);
  const complete = completeSets(view, hold, signed);
  const sound = complete.find((set) => set.every((s) => s.doubts.length === 0));
  const refusals = openRefusals(view, hold);
  const conditions = conditionsOf(view, hold, (id) => releasedById(view, id));
  const missing = conditions.filter((c) => !c.met);
  const doubtful = complete.at(-1);
  const status = sound ? 'released' : doubtful ? 'in-doubt' : missing.length === 0 ? 'ready' : 'open';
  const undoubted = signed.filter((s) => s.doubts.length === 0);
  // The root of thousands of entries is worked out only where a signature is to be held against it.
  const signatures = sound ?? undoubted.filter((s) => s.release.body.evidenceHash === evidenceRoot(view, hold));
  return {
    hold,
    status,
    conditions,
    missing,
    get evidence() {
      return evidenceHashes(view, hold);
    },
    get evidenceHash() {
      return evidenceRoot(view, hold);
    },
    signatures,
    stale: signed.filter((s) => !signatures.includes(s)),
    refusals,
    rolesOpen: hold.roles.filter((role) => !signatures.some((s) => s.release.body.role === role)),
  };
}

function releasedById(view: View, id: string): boolean {
  const hold = holdById(view, id);
  return hold !== null && isReleased(view)(hold);
}

const evidenceHashes = (view: View, hold: Hold): readonly string[] =>
  view.memo.get(`evidence/${hold.id}`, () => evidenceOf(view, hold).map((k) => k.hash));

const evidenceRoot = (view: View, hold: Hold): string =>
  view.memo.get(`root/${hold.id}`, () => merkleRoot(evidenceHashes(view, hold)));

/** The entries that a release of this hold point stands on, those that count, sorted by hash. */
export function evidenceOf(view: View, hold: Hold): Kept[] {
  return scopeOf(view, hold)
    .filter((kept) => view.standing.counts(kept))
    .sort((a, b) => (a.hash < b.hash ? -1 : 1));
}

/** Everything in the hold point's scope: its operations' marks, sheets, readings, rounds, cores, findings, decisions, instruments and strikes. */
function scopeOf(view: View, hold: Hold): Kept[] {
  const names = operationsOf(hold).flatMap((op) => [
    `sheet/${op}`,
    `round/${op}`,
    `finding/${op}`,
    `disposition/${op}`,
    `check/${op}`,
    `cores/${op}`,
    ...view.log.scopeNames(`reading/${op}/`),
  ]);
  const marks = withPredecessors(view, [...hold.operations, hold.after]).map((op) => `operation/${op}`);
  const witnesses = hold.requirements.flatMap((r) => (r.kind === 'witness' ? [`witness/${r.witness}`] : []));
  const used = usedInstruments(view, hold).map(({ id }) => `instrument/${id}`);
  const entries = [
    ...names,
    ...sourcesOf(view, hold),
    ...marks,
    ...witnesses,
    ...used,
    `attestation/${hold.id}`,
  ].flatMap((name) => view.log.inScope(name));
  const strikes = entries.flatMap((kept) => view.log.inScope(`strike/${kept.hash}`));
  return [...new Map([...entries, ...strikes].map((kept) => [kept.hash, kept])).values()];
}

/** Where the readings lie that a required derived value comes from: a change is as much the first survey as the second. */
function sourcesOf(view: View, hold: Hold): string[] {
  const before = withPredecessors(view, [hold.after]);
  return hold.requirements.flatMap((r) => {
    if (r.kind !== 'characteristic') return [];
    const sources =
      view.plan.characteristics.find((c) => c.id === r.characteristic)?.derivedFrom?.characteristics ?? [];
    return sources.flatMap((source) => {
      const operations = view.plan.characteristics.find((c) => c.id === source)?.operations ?? [];
      return operations.filter((op) => before.includes(op)).map((op) => readingScope(op, source));
    });
  });
}

function signaturesOf(view: View, hold: Hold): Signature[] {
  return live(view, `hold/${hold.id}`, 'release')
    .filter((r) => hold.roles.includes(r.body.role))
    .sort(byTime)
    .map((release) => ({ release, doubts: doubtsOf(view, hold, release) }));
}

/** Signatures over one evidence by all roles, different persons, one of whom neither read nor wrote any of it. */
function completeSets(view: View, hold: Hold, signed: readonly Signature[]): Signature[][] {
  const roots = [...new Set(signed.map((s) => s.release.body.evidenceHash))];
  return roots.flatMap((root) => {
    const set = signed.filter((s) => s.release.body.evidenceHash === root);
    const chosen = assign(hold.roles, set);
    return chosen?.some((s) => isIndependent(view, s.release.entry.by, s.release.body.evidence)) ? [chosen] : [];
  });
}

/** One signature a role, each by another person; null where that cannot be done. */
function assign(
  roles: readonly string[],
  set: readonly Signature[],
  taken: readonly string[] = [],
): Signature[] | null {
  const [role, ...rest] = roles;
  if (role === undefined) return [];
  for (const s of set) {
    if (s.release.body.role !== role || taken.includes(s.release.entry.by)) continue;
    const others = assign(rest, set, [...taken, s.release.entry.by]);
    if (others) return [s, ...others];
  }
  return null;
}

/** Kinds that somebody saw something for. */
const OBSERVED: ReadonlySet<string> = new Set(['reading', 'round', 'sheet', 'check', 'core', 'core-change']);

/** Whether a person took and wrote none of the readings, rounds, sheets and checks in the evidence. */
export function isIndependent(view: View, person: string, evidence: readonly string[]): boolean {
  return evidence.every((hash) => {
    const kept = view.log.get(hash);
    if (!kept || !OBSERVED.has(kept.entry.kind)) return true;
    return kept.entry.by !== person && (kept.body as { observer?: string }).observer !== person;
  });
}

/** The rule of doubt: evidence that the signer's tablet did not have and that was not made in knowledge of the release, or evidence that has fallen since. */
function doubtsOf(view: View, hold: Hold, release: Kept<'release'>): Doubt[] {
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
    return judgedAgain(view, entry) ? [{ reason: 'judged-again', entry }] : [];
  });
  return [...fallen, ...[...changes.values()].map((entry): Doubt => ({ reason: 'core-changed', entry })), ...unseen];
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

const bound = (view: View) => ({ covers: (a: Kept, b: Kept) => view.standing.knowledge.covers(a, b) });

const judgedAgain = (view: View, entry: Kept): boolean =>
  entry.kind === 'reading' &&
  verdictOf(view, entry as unknown as Kept<'reading'>) !== (entry as unknown as Kept<'reading'>).body.verdict;

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
