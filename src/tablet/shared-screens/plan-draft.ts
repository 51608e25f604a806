import type { View } from '../../../shared/logbook/state/view.ts';
import { type JoinConflict, joinPlans } from '../../../shared/plan/join-plans.ts';
import { figureFaults, nextRevision, type PlanItem, planItems, revisePlan } from '../../../shared/plan/revise-plan.ts';
import type { Plan } from '../../../shared/plan/schema.ts';
import { formatDecimalText } from '../parts/format-figure.ts';
import { readFigure } from './fields/read-figure.ts';

/** What somebody typed of a revision that is not signed yet. */
export interface PlanDraft {
  readonly kind: PlanItem['kind'];
  /** The item that is open, by its id. */
  readonly item: string;
  /** Figures as typed, by their path. */
  readonly typed: Readonly<Record<string, string>>;
  /** Where two revisions differ, which one is followed, by path. */
  readonly choices: Readonly<Record<string, string>>;
  readonly reason: string;
}

export const emptyDraft: PlanDraft = { kind: 'limits', item: '', typed: {}, choices: {}, reason: '' };

export const draftKey = 'plan/revision';

/** The revision that a draft makes of the plan. */
export interface Proposal {
  /** What the form starts from: the plan in force, or what two revisions make together. */
  readonly base: Plan;
  readonly items: readonly PlanItem[];
  readonly plan: Plan;
  readonly parents: readonly string[];
  readonly conflicts: readonly JoinConflict[];
  /** Conflicts that nobody has decided. */
  readonly undecided: readonly string[];
  /** What is wrong with figures, in words, by path. */
  readonly faults: ReadonlyMap<string, string>;
}

/** What a figure reads like before anybody typed in it. */
export const figureText = (value: number | null): string =>
  value === null ? '' : formatDecimalText(Number(value.toPrecision(12)).toString());

export function proposalOf(view: View, draft: PlanDraft): Proposal {
  const { heads } = view;
  const chosen = new Map(Object.entries(draft.choices).map(([path, index]) => [path, Number(index)]));
  const joined =
    heads.length > 1
      ? joinPlans(
          view.plan,
          heads.map((r) => r.plan),
          chosen,
        )
      : { plan: view.plan, conflicts: [] };
  const items = planItems(joined.plan);
  const { figures, faults } = readFigures(items, draft.typed);
  for (const [path, words] of figureFaults(joined.plan, figures)) faults.set(path, words);
  return {
    base: joined.plan,
    items,
    plan: revisePlan(joined.plan, figures, nextRevision([...view.plans.values()])),
    parents: heads.map((r) => r.hash),
    conflicts: joined.conflicts,
    undecided: joined.conflicts.map((c) => c.path).filter((path) => !chosen.has(path)),
    faults,
  };
}

function readFigures(items: readonly PlanItem[], typed: PlanDraft['typed']) {
  const figures = new Map<string, number | null>();
  const faults = new Map<string, string>();
  for (const { path, value, mayBeEmpty } of items.flatMap((i) => i.figures)) {
    const text = typed[path];
    if (text === undefined || text === figureText(value)) continue;
    if (text.trim() === '' && mayBeEmpty) figures.set(path, null);
    else {
      const read = readFigure(text);
      if ('error' in read) faults.set(path, read.error);
      else figures.set(path, read.value);
    }
  }
  return { figures, faults };
}
