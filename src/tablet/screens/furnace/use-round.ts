import { useMemo, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { thermocoupleType } from '../../../../shared/logbook/state/channels.ts';
import { type Heat, type HeatRound, roundForTime, roundsNow } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { recordRound } from '../../acts/rounds.ts';
import { type Observed, readObserved } from '../../app/observed-at.ts';
import { settings } from '../../app/settings.ts';
import { isoWithOffset, now } from '../../app/time.ts';
import { TypingWay } from '../../app/typing-way.ts';
import type { Draft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { applyKey, type Key } from '../../parts/apply-key.ts';
import { holdsSomething, type RoundDraft } from './round-draft.ts';
import { entryOf } from './round-entry-of.ts';
import {
  type Beside,
  besideOf,
  EMF,
  nextOpen,
  type Walk,
  type WalkInput,
  type WalkItem,
  walkOf,
} from './round-input.ts';

/** One round as its screen works with it. */
export interface Round {
  readonly view: View;
  readonly heat: Heat;
  readonly operation: string;
  readonly extent: 'full' | 'key';
  readonly draft: RoundDraft;
  readonly change: (change: Partial<RoundDraft>) => void;
  readonly walk: Walk;
  readonly item: WalkItem;
  readonly beside: Beside;
  readonly next: WalkItem | null;
  /** The due round that it is written for; null between due times. */
  readonly due: HeatRound | null;
  /** The missed round that it is typed for from paper. */
  readonly missed: HeatRound | null;
  readonly observed: Observed | null;
  /** A figure that waits for an answer: it is asked once. */
  readonly asking: boolean;
  readonly shownFault: string | null;
  readonly saving: boolean;
  readonly problem: string | null;
  readonly choose: (channel: string) => void;
  readonly type: (text: string) => void;
  readonly press: (key: Key) => void;
  readonly enter: () => void;
  readonly stand: () => void;
  readonly skip: () => void;
  readonly keyedAt: (at_ms: number) => void;
  readonly turnUnit: () => void;
  /** Saves what is read; true when it is kept. */
  readonly save: () => Promise<boolean>;
  readonly discard: () => void;
}

export function useRound(
  view: View,
  heat: Heat,
  operation: string,
  missed: HeatRound | null,
  kept: Draft<RoundDraft>,
): Round {
  const { value: draft, change } = kept;
  const { route } = useLocation();
  const saving = useSaving();
  const way = useRef(new TypingWay());
  const [asked, setAsked] = useState<string | null>(null);
  const [shownFault, setShownFault] = useState<string | null>(null);
  const keyed = useRef(0);
  const clock_ms = now.value.getTime();
  const { timeZone } = view.genesis;
  const observed = draft.paper && readObserved(draft.paper.date, draft.paper.time, timeZone, now.value);
  const at_ms = atOf(draft, observed, missed, clock_ms);
  const { current } = roundsNow(heat, clock_ms);
  const extent = (missed ?? current)?.extent ?? 'full';
  const input: WalkInput = { view, heat, extent, draft, settings: settings.value, at_ms };
  // The clock alone moves what is planned; it need not read every channel again.
  const minute = Math.floor(at_ms / 60_000);
  const walk = useMemo(() => walkOf(input), [view, heat, extent, draft, settings.value, minute]);
  const item = walk.items.find((i) => i.channel.id === draft.at) ?? walk.items.find((i) => !i.done) ?? walk.items[0]!;
  const { id } = item.channel;
  const next = nextOpen(walk, id);
  const beside = besideOf(input, walk, item);
  const begun = () => (draft.begunAt === null ? { begunAt: isoWithOffset() } : {});

  const type = (text: string) => {
    way.current.text(text, keyed.current);
    setAsked(null);
    setShownFault(null);
    const { [id]: _gauge, ...gauge } = draft.gauge;
    change({ ...begun(), at: id, gauge, texts: { ...draft.texts, [id]: { text, unit: item.unit } } });
  };
  const goTo = (channel: string, more: Partial<RoundDraft> = {}) => {
    way.current = new TypingWay();
    setAsked(null);
    setShownFault(null);
    change({ ...more, at: channel });
  };
  const onward = (more: Partial<RoundDraft> = {}) => goTo(next?.channel.id ?? id, more);
  const enter = () => {
    if (item.text === '') return setShownFault(item.done ? null : 'Nothing is typed yet.');
    if (item.fault) return setShownFault(item.fault);
    const gauge = way.current.end(keyed.current) === 'gauge' ? { gauge: { ...draft.gauge, [id]: true as const } } : {};
    if (beside.jump && draft.stands[id] !== item.text && asked !== item.text) {
      change(gauge);
      return setAsked(item.text);
    }
    onward({ ...gauge, ...(asked === item.text ? { stands: { ...draft.stands, [id]: item.text } } : {}) });
  };
  const save = () =>
    saving.run(async () => {
      const who = await someone();
      if (!who) return false;
      const { body, observedAt } = entryOf({ view, heat, operation, extent, draft, walk, who: who.id });
      await recordRound(body, observedAt);
      await kept.clear();
      route('/furnace');
      return true;
    });
  return {
    view,
    heat,
    operation,
    extent,
    draft,
    change,
    walk,
    item,
    beside,
    next,
    due: roundForTime(heat, at_ms, extent),
    missed,
    observed,
    asking: asked !== null && asked === item.text,
    shownFault,
    saving: saving.busy,
    problem: saving.problem,
    choose: goTo,
    type,
    press: (key) => {
      keyed.current = performance.now();
      type(applyKey(item.text, key, settings.value.decimalMark));
    },
    enter,
    stand: () => onward({ stands: { ...draft.stands, [id]: item.text } }),
    skip: () => onward(),
    keyedAt: (time) => {
      keyed.current = time;
    },
    turnUnit: () => {
      const kind = thermocoupleType(item.channel);
      if (kind === null) return;
      const unit = item.unit === EMF ? settings.value.temperatureUnit : EMF;
      const texts = item.text === '' ? {} : { texts: { ...draft.texts, [id]: { text: item.text, unit } } };
      change({ units: { ...draft.units, [kind]: unit }, ...texts });
    },
    save,
    discard: () => void kept.clear(),
  };
}

/** When the round is read: as the paper says, else since its first figure; a missed one at its due time until told. */
function atOf(draft: RoundDraft, observed: Observed | null, missed: HeatRound | null, clock_ms: number): number {
  if (observed && 'at' in observed) return observed.at.getTime();
  if (missed) return missed.due_ms;
  return draft.begunAt !== null && holdsSomething(draft) ? Date.parse(draft.begunAt) : clock_ms;
}
