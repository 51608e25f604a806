import type { Body, Kind } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { anyKind, type View } from './view.ts';

const MAY_STRIKE_OTHERS = ['crew-lead', 'process-engineer', 'quality'] as const;

/** The strikes that withdraw an entry: own entries, or another person's with the role for it. Strikes stay. */
export function strikesOf(view: View, target: Kept): Kept<'strike'>[] {
  if (target.kind === 'strike') return [];
  return view.standing
    .counting<'strike'>(`strike/${target.hash}`)
    .filter((strike) => mayStrike(strike.entry.by, target, view.standing.rolesAt(anyKind(strike))));
}

/** Whether a person with these roles may strike this entry. */
export function mayStrike(person: string, target: Kept, roles: readonly string[]): boolean {
  const observer = (target.body as Partial<Body<'reading'>>).observer;
  return person === target.entry.by || person === observer || MAY_STRIKE_OTHERS.some((role) => roles.includes(role));
}

export const isStruck = (view: View, kept: Kept): boolean => strikesOf(view, kept).length > 0;

/** Counts and is not struck. */
export const isLive = (view: View, kept: Kept): boolean => view.standing.counts(kept) && !isStruck(view, kept);

/** The live entries of one kind in a scope. */
export function live<K extends Kind>(view: View, scope: string, kind: K): Kept<K>[] {
  return view.memo.get(`live/${kind}/${scope}`, () =>
    view.log.inScope<K>(scope).filter((kept) => kept.kind === kind && isLive(view, anyKind(kept))),
  );
}
