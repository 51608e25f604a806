import type { View } from '../../../shared/logbook/state/view.ts';
import { cutSegments, placeAfter, type SegmentCut } from '../../../shared/plan/cut-segments.ts';
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
  /** Segments of heat plans that were added and taken out, with what was typed before each. */
  readonly cuts: readonly DraftCut[];
  /** Where two revisions differ, which one is followed, by path. */
  readonly choices: Readonly<Record<string, string>>;
  readonly reason: string;
}

export interface DraftCut {
  readonly cut: SegmentCut;
  readonly typedBefore: PlanDraft['typed'];
}

export const emptyDraft: PlanDraft = { kind: 'limits', item: '', typed: {}, cuts: [], choices: {}, reason: '' };

const segmentPath = (heat: string): string => `heatPlans/${heat}/segments/`;

/** What is typed of a heat plan, and what of everything else. */
function parted(typed: PlanDraft['typed'], heat: string) {
  const all = Object.entries(typed);
  const own = all.filter(([path]) => path.startsWith(segmentPath(heat)));
  return { own, others: all.filter((each) => !own.includes(each)) };
}

/** The draft with a segment added or taken out: figures that were typed stay with their segments. */
export function withCut(draft: PlanDraft, cut: SegmentCut): Pick<PlanDraft, 'typed' | 'cuts' | 'item'> {
  const { own, others } = parted(draft.typed, cut.heat);
  const start = segmentPath(cut.heat);
  const moved = own.flatMap(([path, text]) => {
    const [at = '', ...rest] = path.slice(start.length).split('/');
    const place = placeAfter(cut, Number(at));
    return place === null ? [] : [[`${start}${place}/${rest.join('/')}`, text] as const];
  });
  return {
    typed: Object.fromEntries([...others, ...moved]),
    cuts: [...draft.cuts, { cut, typedBefore: Object.fromEntries(own) }],
    item: '',
  };
}

/** The draft as it was before the last segment of a heat plan was added or taken out. */
export function withoutLastCut(draft: PlanDraft, heat: string): Pick<PlanDraft, 'typed' | 'cuts' | 'item'> {
  const last = draft.cuts.findLastIndex(({ cut }) => cut.heat === heat);
  const { others } = parted(draft.typed, heat);
  return {
    typed: { ...Object.fromEntries(others), ...draft.cuts[last]?.typedBefore },
    cuts: draft.cuts.filter((_, i) => i !== last),
    item: '',
  };
}

/** The draft without anything of a heat plan. */
export const withoutHeat = (draft: PlanDraft, heat: string): Pick<PlanDraft, 'typed' | 'cuts' | 'item'> => ({
  typed: Object.fromEntries(parted(draft.typed, heat).others),
  cuts: draft.cuts.filter(({ cut }) => cut.heat !== heat),
  item: '',
});

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
  const cut = cutSegments(
    joined.plan,
    draft.cuts.map((c) => c.cut),
  );
  const items = planItems(cut);
  const { figures, faults } = readFigures(items, draft.typed);
  for (const [path, words] of figureFaults(cut, figures)) faults.set(path, words);
  return {
    base: joined.plan,
    items,
    plan: revisePlan(cut, figures, nextRevision([...view.plans.values()])),
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
