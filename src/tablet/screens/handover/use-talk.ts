import { useEffect, useState } from 'preact/hooks';
import type { HandoverState, TalkedItem } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { talkedThrough } from '../../acts/handover.ts';
import { person } from '../../app/session.ts';
import { useDraft } from '../../app/use-draft.ts';
import { type Saving, useSaving } from '../../app/use-saving.ts';
import { leads } from './lead-choice.tsx';

interface TalkDraft {
  readonly items: Readonly<Record<string, TalkedItem>>;
  /** Questions on items that are not talked through yet. */
  readonly notes: Readonly<Record<string, Pick<TalkedItem, 'question' | 'answer'>>>;
  /** An item that was opened again. */
  readonly at: string | null;
  readonly incoming: string | null;
}

const nothing: TalkDraft = { items: {}, notes: {}, at: null, incoming: null };

export interface Talk {
  readonly ready: boolean;
  /** By item, what the log and this tablet have of the talk. */
  readonly talked: ReadonlyMap<string, TalkedItem>;
  readonly refused: readonly TalkedItem[];
  /** The item that is talked through now; null when all are. */
  readonly current: string | null;
  readonly note: Pick<TalkedItem, 'question' | 'answer'>;
  /** Who takes over; null until it is known. */
  readonly incoming: string | null;
  readonly saving: Saving;
  /** Talked through, and not in the log yet. */
  readonly unsaved: boolean;
  readonly choose: (incoming: string) => void;
  readonly ask: (question: string, answer: string) => void;
  /** Ends the current item: taken over, or refused. The talk is written with the last one. */
  readonly done: (incoming: string, refused?: string) => Promise<void>;
  readonly keep: (incoming: string) => Promise<void>;
  readonly again: (item: string) => void;
}

/** The talk about one handover, item by item. It stays on this tablet until all is talked through, then it is one entry. */
export function useTalk(view: View, state: HandoverState): Talk {
  const { handover } = state;
  const draft = useDraft(`talk/${handover.hash}`, nothing);
  const saving = useSaving();
  const [asked, setAsked] = useState<string | null>(null);
  const [kept, setKept] = useState<readonly TalkedItem[]>([]);
  const { items, notes, at, incoming } = draft.value;
  const all = handover.body.items.map((i) => i.item);
  const talked = new Map([...state.talk, ...Object.entries(items)]);
  const current = at ?? all.find((item) => !talked.has(item)) ?? null;

  // The log tells of an entry a moment after it was kept: until then the draft goes on saying it.
  const drafted = Object.values(items);
  const inLog = drafted.every((i) => sameWords(state.talk.get(i.item), i));
  useEffect(() => {
    if (drafted.length > 0 && inLog && at === null) void draft.clear();
  }, [items, inLog, at]);

  const keep = async (who: string) => {
    const said = Object.values(draft.latest().items);
    if (said.length === 0) return;
    await saving.run(async () => {
      if ((await talkedThrough(handover.hash, who, said)) === false) return false;
      setKept(said);
      return true;
    });
  };
  const done = async (who: string, refused?: string) => {
    if (current === null) return;
    const now = draft.latest();
    const item = { item: current, ...now.notes[current], ...(refused === undefined ? {} : { refused }) };
    const next = { ...now.items, [current]: item };
    draft.change({ items: next, at: null, incoming: who });
    if (all.every((i) => state.talk.has(i) || next[i] !== undefined)) await keep(who);
  };
  return {
    ready: draft.ready,
    talked,
    refused: [...talked.values()].filter((t) => t.refused !== undefined && all.includes(t.item)),
    current,
    note: (current === null ? undefined : notes[current]) ?? {},
    incoming: asked ?? incoming ?? state.incoming ?? only(view, handover.entry.by),
    saving,
    unsaved: !inLog && !drafted.every((i) => kept.includes(i)),
    choose: (who) => {
      setAsked(who);
      draft.change({ incoming: who });
    },
    ask: (question, answer) => {
      if (current === null) return;
      const note = { ...(question ? { question } : {}), ...(answer ? { answer } : {}) };
      draft.change({ notes: { ...draft.latest().notes, [current]: note } });
    },
    done,
    keep,
    again: (item) => {
      const { question, answer } = talked.get(item) ?? {};
      const note = { ...(question ? { question } : {}), ...(answer ? { answer } : {}) };
      draft.change({ at: item, notes: { ...draft.latest().notes, [item]: note } });
    },
  };
}

/** The person at the tablet where they may take over, else the only one who may. */
function only(view: View, outgoing: string): string | null {
  const able = leads(view, outgoing);
  const here = able.find((p) => p.id === person.value?.id);
  return (here ?? (able.length === 1 ? able[0] : undefined))?.id ?? null;
}

/** Whether the log says of an item what the draft says. */
const sameWords = (a: TalkedItem | undefined, b: TalkedItem): boolean =>
  a !== undefined &&
  (['question', 'answer', 'refused'] as const).every((key) => a[key]?.normalize('NFC') === b[key]?.normalize('NFC'));
