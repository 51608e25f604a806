import type { Hold, Operation } from '../../plan/schema.ts';
import type { Kind } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { byTime } from './readings.ts';
import { type SheetState, sheetState } from './sheets.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

/** Where an operation stands. `blocked` still takes entries: it says what work should wait for. */
export type Progress = 'done' | 'under-way' | 'ready' | 'blocked';

export interface OperationState {
  readonly operation: Operation;
  readonly progress: Progress;
  readonly started: Kept<'operation'> | null;
  readonly finished: Kept<'operation'> | null;
  readonly sheet: SheetState;
  readonly waitsFor: readonly Wait[];
}

/** What stands before an operation: an operation that is not finished, or a hold point that is not released. */
export type Wait =
  | { readonly kind: 'operation' | 'start'; readonly id: string }
  | { readonly kind: 'hold'; readonly id: string };

/** Whether a hold point is released is known only to `holds.ts`, which builds on this file. */
export type IsReleased = (hold: Hold) => boolean;

export const mark = (view: View, operation: string, which: 'started' | 'finished'): Kept<'operation'> | null =>
  live(view, `operation/${operation}`, 'operation')
    .filter((o) => o.body.mark === which)
    .sort(byTime)[0] ?? null;

/** The first sign of work on an operation: its mark, or any live entry of it. */
export function firstWork(view: View, operation: string): Kept | null {
  return view.memo.get(`first/${operation}`, () =>
    workOn(view, operation).reduce<Kept | null>((first, k) => (first && byTime(first, k) <= 0 ? first : k), null),
  );
}

/** Where the work on an operation lies: its marks, sheets, rounds, checks and cores, and each of its stations. */
export function workScopes(view: View, operation: string): { scope: string; kind: Kind }[] {
  return [
    { scope: `operation/${operation}`, kind: 'operation' },
    { scope: `sheet/${operation}`, kind: 'sheet' },
    { scope: `round/${operation}`, kind: 'round' },
    { scope: `check/${operation}`, kind: 'check' },
    { scope: `cores/${operation}`, kind: 'core' },
    { scope: `cores/${operation}`, kind: 'core-change' },
    ...view.log.scopeNames(`station/${operation}/`).map((scope) => ({ scope, kind: 'reading' as const })),
  ];
}

/** Every live entry that is work on an operation. */
export function workOn(view: View, operation: string): Kept[] {
  return view.memo.get(`work/${operation}`, () =>
    workScopes(view, operation).flatMap(({ scope, kind }) => live(view, scope, kind).map(anyKind)),
  );
}

/** The work on an operation that something holds of, oldest first; asked again only of the scopes that changed. */
export function workThat(view: View, operation: string, what: string, holds: (entry: Kept) => boolean): Kept[] {
  return workScopes(view, operation)
    .flatMap(({ scope, kind }) =>
      view.memo.get(`${what}/${operation}/${kind}/${scope}`, () => live(view, scope, kind).map(anyKind).filter(holds)),
    )
    .sort(byTime);
}

export function operationState(view: View, operation: Operation, isReleased: IsReleased): OperationState {
  const finished = mark(view, operation.id, 'finished');
  const waitsFor = finished ? [] : waitsOf(view, operation, isReleased);
  const begun = firstWork(view, operation.id) !== null;
  return {
    operation,
    progress: finished ? 'done' : begun ? 'under-way' : waitsFor.length > 0 ? 'blocked' : 'ready',
    started: mark(view, operation.id, 'started'),
    finished,
    sheet: sheetState(view, operation.id),
    waitsFor,
  };
}

/** What an operation's start waits for: FS predecessors unfinished, SS predecessors unbegun, hold points unreleased. */
function waitsOf(view: View, operation: Operation, isReleased: IsReleased): Wait[] {
  const operations = operation.after.flatMap((p): Wait[] => {
    if (p.type === 'FS') return mark(view, p.id, 'finished') ? [] : [{ kind: 'operation', id: p.id }];
    if (p.type === 'SS') return firstWork(view, p.id) ? [] : [{ kind: 'start', id: p.id }];
    return [];
  });
  const holds = gatesOf(view, operation.id)
    .filter((h) => !isReleased(h))
    .map((h): Wait => ({ kind: 'hold', id: h.id }));
  return [...operations, ...holds];
}

/** The hold points through which work must pass just before an operation. */
export const gatesOf = (view: View, operation: string): Hold[] =>
  view.plan.holds.filter((hold) => hold.before.includes(operation));

/** An operation and everything that must come before it, in plan order. */
export function withPredecessors(view: View, operations: readonly string[]): string[] {
  const byId = new Map(view.plan.operations.map((o) => [o.id, o]));
  const found = new Set<string>();
  const open = [...operations];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    if (found.has(id)) continue;
    found.add(id);
    open.push(...(byId.get(id)?.after.map((p) => p.id) ?? []));
  }
  return view.plan.operations.map((o) => o.id).filter((id) => found.has(id));
}

/** Known to the writer of the later one, or observed earlier. */
export const happenedBefore = (view: View, a: Kept, b: Kept): boolean =>
  view.standing.knowledge.covers(b, a) || Date.parse(a.entry.observedAt) < Date.parse(b.entry.observedAt);
