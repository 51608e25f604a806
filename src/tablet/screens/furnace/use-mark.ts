import { useRef, useState } from 'preact/hooks';
import { type Instrument, inCalibration, instruments } from '../../../../shared/logbook/state/instruments.ts';
import { type Judgement, judgeReading } from '../../../../shared/logbook/state/judge-reading.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Characteristic } from '../../../../shared/plan/schema.ts';
import { recordReading } from '../../acts/readings.ts';
import { readObserved } from '../../app/observed-at.ts';
import type { Read } from '../../app/read-figure.ts';
import { settings } from '../../app/settings.ts';
import { isoWithOffset } from '../../app/time.ts';
import { TypingWay } from '../../app/typing-way.ts';
import { type Draft, useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { applyKey, type Key } from '../../parts/apply-key.ts';
import type { TypedMoment } from '../../shared-screens/past-moment.tsx';

/** What is typed of a figure that is read again and again, and not yet in an entry. */
export interface MarkDraft {
  /** By station. */
  readonly texts: Readonly<Record<string, string>>;
  /** The way in which it is typed, as the screen names it. */
  readonly mode: string;
  readonly observer: string | null;
  readonly paper: TypedMoment | null;
}

const EMPTY: MarkDraft = { texts: {}, mode: '', observer: null, paper: null };

export const useMarkDraft = (characteristic: string, operation: string): Draft<MarkDraft> =>
  useDraft(`mark/${operation}/${characteristic}`, EMPTY, {
    holds: ({ texts }) => Object.values(texts).some((t) => t !== ''),
  });

/** The figure at one station, and how this screen reads it. */
export interface MarkAsked {
  readonly view: View;
  readonly operation: string;
  readonly characteristic: Characteristic;
  readonly station: string;
  /** Where the figure stands, for the words that say it is saved. */
  readonly label: string;
  readonly kept: Draft<MarkDraft>;
  readonly read: (text: string) => Read;
  /** Whether the limits hold for this figure; where they do not, nothing is judged. */
  readonly limited: (value: number, at_ms: number) => boolean;
  /** What is asked once before an unlikely figure is kept. */
  readonly doubt: (value: number) => string | null;
  /** A figure of the plan's unit as the screen shows it. */
  readonly shown: (value: number) => string;
  readonly onSaved?: () => void;
}

export interface Mark {
  readonly text: string;
  readonly value: number | null;
  readonly judgement: Judgement | null;
  readonly fault: string | null;
  readonly ask: string | null;
  readonly saved: string | null;
  readonly saving: boolean;
  readonly problem: string | null;
  readonly instrument: Instrument | null;
  readonly keyedAt: (at_ms: number) => void;
  readonly type: (text: string) => void;
  readonly press: (key: Key) => void;
  readonly enter: () => void;
}

/** Typing, judging and keeping one figure. What was typed stays until it is saved. */
export function useMark(asked: MarkAsked): Mark {
  const { view, station, kept, label } = asked;
  const { value: draft, change, latest } = kept;
  const text = draft.texts[station] ?? '';
  const saving = useSaving();
  const way = useRef(new TypingWay());
  const keyed = useRef(0);
  const [fault, setFault] = useState<string | null>(null);
  const [ask, setAsk] = useState<{ text: string; words: string } | null>(null);
  const [saved, setSaved] = useState<string | null>(null);
  const read = text === '' ? null : asked.read(text);
  const value = read && 'typed' in read ? read.typed.value : null;
  const instrument = instrumentFor(view, asked.characteristic, isoWithOffset());
  const judgement = value === null ? null : judged(asked, value, Date.now(), instrument);

  const type = (next: string) => {
    way.current.text(next, keyed.current);
    setFault(null);
    setAsk(null);
    change({ texts: { ...latest().texts, [station]: next } });
  };
  const keep = async (): Promise<boolean> => {
    const who = await someone();
    if (!who) return false;
    const now = asked.read(latest().texts[station] ?? '');
    if ('fault' in now) return refuse(now.fault);
    const { observer, paper, texts } = latest();
    const observed = paper && readObserved(paper.date, paper.time, view.genesis.timeZone, new Date());
    if (observed && 'fault' in observed) return refuse(observed.fault);
    const at = observed ? observed.at : new Date();
    const {
      value: of,
      limits,
      standardUncertainty,
      guard,
      verdict,
      calculations,
    } = judged(asked, now.typed.value, at.getTime(), instrument);
    await recordReading({
      ...(observed ? { observedAt: isoWithOffset(observed.at) } : {}),
      body: {
        operation: asked.operation,
        characteristic: asked.characteristic.id,
        station,
        typed: now.typed,
        conditions: {},
        value: of,
        limits: { ...limits },
        standardUncertainty,
        guard,
        verdict,
        plan: view.planHash,
        calculations: { ...calculations },
        instrument: instrument?.id ?? null,
        observer: observer ?? who.id,
        way: way.current.end(keyed.current),
      },
    });
    change({ texts: { ...texts, [station]: '' } });
    way.current = new TypingWay();
    setAsk(null);
    setSaved(
      `Saved: ${label}, ${asked.shown(of)}${verdict === null ? '' : `, ${verdict === 'not-proven' ? 'not proven' : verdict}`}`,
    );
    asked.onSaved?.();
    return true;
  };
  const refuse = (words: string): false => {
    setFault(words);
    return false;
  };
  return {
    text,
    value,
    judgement,
    fault,
    ask: ask?.text === text ? ask.words : null,
    saved,
    saving: saving.busy,
    problem: saving.problem,
    instrument,
    keyedAt: (at_ms) => {
      keyed.current = at_ms;
    },
    type,
    press: (key) => {
      keyed.current = performance.now();
      type(applyKey(latest().texts[station] ?? '', key, settings.value.decimalMark));
    },
    enter: () => {
      if (saving.busy) return;
      const now = asked.read(latest().texts[station] ?? '');
      if ('fault' in now) return void refuse(now.fault);
      const words = asked.doubt(now.typed.value);
      if (words && ask?.text !== text) return setAsk({ text, words });
      void saving.run(keep);
    },
  };
}

/** Judged as the tablet judges every reading; where its limits do not hold yet, without them. */
function judged(asked: MarkAsked, value: number, at_ms: number, instrument: Instrument | null): Judgement {
  const { view, operation, characteristic, station } = asked;
  const full = judgeReading({
    plan: view.plan,
    operation,
    characteristic,
    station,
    read: value,
    instrument: instrument?.line ?? null,
  });
  if (asked.limited(value, at_ms)) return full;
  return { ...full, limits: { ...full.limits, lower: null, upper: null }, verdict: null, calculations: {} };
}

/** The first of the register that may take it, one in calibration before others. */
function instrumentFor(view: View, { instruments: classes }: Characteristic, at: string): Instrument | null {
  const may = instruments(view).filter((i) => classes.includes(i.line.class));
  return may.find((i) => inCalibration(i, at)) ?? may[0] ?? null;
}
