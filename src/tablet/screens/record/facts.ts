import type { View } from '../../../../shared/logbook/state/view.ts';
import { operationById } from '../../../../shared/plan/lookup.ts';
import type { Plan } from '../../../../shared/plan/schema.ts';
import { dayAndTime } from '../../app/time.ts';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';

/** One thing that an entry says: its name and what it is, in words. */
export interface Fact {
  readonly name: string;
  readonly value: string;
  /** Where it can be looked at. */
  readonly href?: string;
}

/** One line of a list that an entry carries, e.g. an answer or a channel. */
export interface Line {
  readonly text: string;
  readonly note?: string;
  readonly value: string;
}

/** All that an entry says, for people. */
export interface Facts {
  readonly facts: readonly Fact[];
  readonly list?: { readonly title: string; readonly lines: readonly Line[] };
}

/** The facts that are there; what an entry leaves out is not told. */
export const told = (...facts: readonly (Fact | null)[]): Fact[] => facts.filter((f) => f !== null);

export const fact = (name: string, value: string | number | null | undefined, href?: string): Fact | null =>
  value === undefined || value === null || value === ''
    ? null
    : { name, value: String(value), ...(href === undefined ? {} : { href }) };

export const person = (view: View, id: string | undefined): string | undefined =>
  id === undefined ? undefined : (view.standing.person(id)?.name ?? 'somebody not admitted');

export const tablet = (view: View, device: string): string =>
  view.standing.tablets().find((t) => t.device === device)?.name ?? 'a tablet not admitted';

export const operation = (plan: Plan, id: string | undefined): Fact | null =>
  fact('operation', id && `${id} ${operationById(plan, id)?.name ?? ''}`.trim(), id && `/sequence/${id}`);

export const hold = (plan: Plan, id: string | null | undefined, name = 'hold point'): Fact | null =>
  fact(name, id && `${id} ${plan.holds.find((h) => h.id === id)?.name ?? ''}`.trim(), id ? `/hold/${id}` : undefined);

export const planRevision = (view: View, hash: string): Fact | null =>
  fact('plan revision', view.plans.get(hash)?.revision ?? 'not on this tablet');

export const moment = (view: View, at: string): string => dayAndTime(at, view.genesis.dayOne, view.genesis.timeZone);

/** Another entry that this one is about. */
export function entryLink(view: View, name: string, hash: string | undefined): Fact | null {
  if (hash === undefined) return null;
  const kept = view.log.get(hash);
  const says = kept ? `${kindName(kept.entry.kind)} ${entryWords(view, kept)}` : 'an entry that is not here yet';
  return fact(name, says, `/record/${hash}`);
}

const WAYS: Readonly<Record<string, string>> = {
  keypad: 'typed on the tablet',
  gauge: 'sent by a gauge that types',
  paper: 'typed later, from paper',
};

export const typedHow = (way: string): Fact | null => fact('how it came in', WAYS[way] ?? way);
