import type { Hold } from '../../plan/schema.ts';
import { type Kept, Log } from '../log.ts';
import { requirementCondition } from './conditions.ts';
import { Memo } from './memo.ts';
import { anyKind, type View, viewUnder } from './view.ts';

/** What a tablet can tell from the listed evidence alone; operations before and other hold points lie outside it. */
const TOLD_BY_EVIDENCE: ReadonlySet<string> = new Set([
  'sheet',
  'characteristic',
  'rounds',
  'photos',
  'statement',
  'witness',
]);

/**
 * What a release lacked on the evidence that it lists, under the plan that it names, in words; empty where it carried.
 * A tablet refuses such a signature; one that was written all the same certifies nothing.
 */
export function lackedBy(view: View, { id }: Hold, release: Kept<'release'>): readonly string[] {
  const { body } = release;
  return view.memo.get(`lacked/${id}/${body.plan}/${body.evidenceHash}`, () => {
    const plan = view.plans.get(body.plan);
    const hold = plan?.holds.find((h) => h.id === id);
    if (!plan || !hold) return ['the plan revision that it names is not here'];
    const part = partOf(view, release);
    const then: View = { ...viewUnder(view, body.plan), byThisPlan: true, log: part, memo: new Memo(part) };
    return hold.requirements
      .filter((need) => TOLD_BY_EVIDENCE.has(need.kind))
      .map((need) => requirementCondition(then, hold, need, () => true))
      .flatMap((c) => (c.met ? [] : [`${c.title}: ${c.words}`]));
  });
}

/**
 * The listed entries as a log of their own, with what its writer knew of cores that were changed for others. Whether
 * entries count is still asked of the whole.
 */
function partOf(view: View, release: Kept<'release'>): Log {
  const part = new Log(view.log.casting);
  for (const hash of release.body.evidence) {
    const kept = view.log.get(hash);
    if (kept) part.include(kept);
  }
  const changes = view.log.scopeNames('core/').flatMap((name) => view.log.inScope(name));
  for (const change of changes) if (view.standing.knowledge.covers(anyKind(release), change)) part.include(change);
  return part;
}
