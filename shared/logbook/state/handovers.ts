import type { Body } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { byTime } from './readings.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

/** Who may hand a shift over and take it over. */
export const HANDOVER_ROLE = 'crew-lead';

/** `waiting` for its answer; `refused` in some of its items; `accepted` as a whole. */
export type HandoverStatus = 'waiting' | 'refused' | 'accepted';

export type TalkedItem = Body<'talk'>['items'][number];
export type Refusal = Body<'handover-answer'>['refused'][number];

export interface HandoverState {
  readonly handover: Kept<'handover'>;
  readonly status: HandoverStatus;
  /** By item, what was last said about it in the talk. */
  readonly talk: ReadonlyMap<string, TalkedItem>;
  /** By item, the entry that says so. */
  readonly talkedIn: ReadonlyMap<string, string>;
  /** Who the talk was with, as far as one is written. */
  readonly incoming: string | null;
  /** The first acceptance that counts. */
  readonly accepted: Kept<'handover-answer'> | null;
  /** Refusals that stand: not taken back by an acceptance written in knowledge of them. */
  readonly refusals: readonly Kept<'handover-answer'>[];
}

/** An item that was refused and waits for the next handover. */
export interface Carried extends Refusal {
  readonly title: string;
  /** The entry that refused it. */
  readonly answer: string;
}

const HANDOVERS = 'handover';

/** Every handover that counts, oldest first. */
export const handoverStates = (view: View): readonly HandoverState[] =>
  view.memo.get('handovers', () =>
    live(view, HANDOVERS, 'handover')
      .filter((h) => h.body.role === HANDOVER_ROLE)
      .sort(byTime)
      .map((handover) => handoverState(view, handover)),
  );

export const handoverByHash = (view: View, hash: string): HandoverState | null =>
  handoverStates(view).find((s) => s.handover.hash === hash) ?? null;

function handoverState(view: View, handover: Kept<'handover'>): HandoverState {
  const scope = `${HANDOVERS}/${handover.hash}`;
  const answers = live(view, scope, 'handover-answer')
    .filter((a) => a.body.role === HANDOVER_ROLE && a.entry.by !== handover.entry.by)
    .sort(byTime);
  const acceptances = answers.filter((a) => a.body.refused.length === 0);
  const refusals = answers.filter(
    (a) =>
      a.body.refused.length > 0 && !acceptances.some((yes) => view.standing.knowledge.covers(anyKind(yes), anyKind(a))),
  );
  const talks = live(view, scope, 'talk').sort(byTime);
  return {
    handover,
    status: acceptances.length > 0 ? 'accepted' : refusals.length > 0 ? 'refused' : 'waiting',
    talk: new Map(talks.flatMap((t) => t.body.items.map((i) => [i.item, i] as const))),
    talkedIn: new Map(talks.flatMap((t) => t.body.items.map((i) => [i.item, t.hash] as const))),
    incoming: talks.at(-1)?.body.incoming ?? null,
    accepted: acceptances[0] ?? null,
    refusals,
  };
}

/** Handovers that nobody has accepted and that no later one was written in knowledge of, oldest first. */
export function openHandovers(view: View): readonly HandoverState[] {
  return view.memo.get('handovers/open', () => {
    const all = handoverStates(view);
    const replaced = (s: HandoverState) =>
      all.some((other) => view.standing.knowledge.covers(anyKind(other.handover), anyKind(s.handover)));
    return all.filter((s) => s.status !== 'accepted' && !replaced(s));
  });
}

/** The accepted handover that was prepared last; the next goes on from it. */
export const lastAccepted = (view: View): HandoverState | null =>
  handoverStates(view).findLast((s) => s.status === 'accepted') ?? null;

/** Refused items that no accepted handover has answered yet. */
export function carriedItems(view: View): readonly Carried[] {
  return view.memo.get('handovers/carried', () => {
    const all = handoverStates(view);
    const answered = new Set(
      all
        .filter((s) => s.status === 'accepted')
        .flatMap((s) =>
          s.handover.body.items.flatMap((i) => (i.carried ?? []).map((c) => carriedKey(c.answer, i.item))),
        ),
    );
    return all.flatMap(({ handover, refusals }) =>
      refusals.flatMap((answer) =>
        answer.body.refused
          .filter((r) => !answered.has(carriedKey(answer.hash, r.item)))
          .map((r) => ({
            ...r,
            title: handover.body.items.find((i) => i.item === r.item)?.title ?? r.item,
            answer: answer.hash,
          })),
      ),
    );
  });
}

const carriedKey = (answer: string, item: string): string => `${answer}/${item}`;

/** What of a handover has not been talked through. */
export const itemsToTalk = (state: HandoverState): string[] =>
  state.handover.body.items.map((i) => i.item).filter((item) => !state.talk.has(item));
