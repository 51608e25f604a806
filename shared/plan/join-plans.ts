import { type PlanChanges, planDifference } from './plan-difference.ts';
import { isRow, type Json, type Row, sameJson } from './same-json.ts';
import type { Plan } from './schema.ts';

/** A place of the plan that several revisions changed, each otherwise. */
export interface JoinConflict {
  readonly path: string;
  /** For each revision, what it makes of this place against the parent. */
  readonly options: readonly (readonly PlanChanges[])[];
}

export interface JoinedPlans {
  /** With the first revision's word where they differ and nobody has chosen. */
  readonly plan: Plan;
  readonly conflicts: readonly JoinConflict[];
}

/**
 * The plan that has what each of several revisions changed in one parent. Where two changed one place otherwise a person
 * chooses.
 * @param choices by the path of a conflict, which revision is followed there, counted from 0.
 */
export function joinPlans(
  parent: Plan,
  revisions: readonly Plan[],
  choices: ReadonlyMap<string, number> = new Map(),
): JoinedPlans {
  const paths: string[] = [];
  const choose = (path: string, first: number) => {
    paths.push(path);
    return choices.get(path) ?? first;
  };
  // The name of a revision is given when the joined plan is signed.
  const named = revisions.map((r) => ({ ...r, revision: parent.revision }));
  const plan = merge(parent, named, '', choose) as Plan;
  const conflicts = paths.map((path) => ({
    path,
    options: named.map((r) => planDifference(parent, merge(parent, [r], '', () => 0, path) as Plan)),
  }));
  return { plan, conflicts };
}

/** @param first the first of those that changed the place. */
type Choose = (path: string, first: number) => number;

/** @param only where it is told, nothing but this place follows the revisions. */
function merge(parent: Json, theirs: readonly Json[], path: string, choose: Choose, only?: string): Json {
  if (only !== undefined && !leadsTo(path, only)) return parent;
  const changed = theirs.filter((t) => !sameJson(t, parent));
  if (changed.length === 0) return parent;
  if (path === only || (only === undefined && changed.every((t) => sameJson(t, changed[0])))) return changed[0];
  if ([parent, ...changed].every(isRow)) return mergeRows(parent as Row, theirs as Row[], path, choose, only);
  if ([parent, ...changed].every(hasIds)) return mergeLists(parent as Row[], theirs as Row[][], path, choose, only);
  if ([parent, ...changed].every((l) => isRows(l) && l.length === (parent as Json[]).length))
    return (parent as Json[]).map((item, i) =>
      merge(
        item,
        theirs.map((t) => (t as Json[])[i]),
        `${path}/${i}`,
        choose,
        only,
      ),
    );
  return theirs[choose(path, theirs.indexOf(changed[0]))];
}

const leadsTo = (path: string, only: string): boolean => only === path || path === '' || only.startsWith(`${path}/`);

function mergeRows(parent: Row, theirs: readonly Row[], path: string, choose: Choose, only?: string): Row {
  const keys = [...new Set([parent, ...theirs].flatMap((row) => Object.keys(row)))];
  return Object.fromEntries(
    keys.flatMap((key) => {
      const value = merge(
        parent[key],
        theirs.map((t) => t[key]),
        `${path}/${key}`,
        choose,
        only,
      );
      return value === undefined ? [] : [[key, value]];
    }),
  );
}

/** Items are told apart by their ids; what is new comes behind the parent's. */
function mergeLists(
  parent: readonly Row[],
  theirs: readonly Row[][],
  path: string,
  choose: Choose,
  only?: string,
): Row[] {
  const ids = [...new Set([parent, ...theirs].flatMap((list) => list.map((item) => item.id as string)))];
  const of = (list: readonly Row[], id: string) => list.find((item) => item.id === id);
  return ids.flatMap((id) => {
    const item = merge(
      of(parent, id),
      theirs.map((list) => of(list, id)),
      `${path}/${id}`,
      choose,
      only,
    );
    return item === undefined ? [] : [item as Row];
  });
}

const isRows = (value: Json): value is Json[] => Array.isArray(value) && value.every(isRow);
const hasIds = (value: Json): boolean => isRows(value) && value.every((item) => typeof (item as Row).id === 'string');
