import { useEffect, useRef, useState } from 'preact/hooks';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { correctReading, recordReading } from '../../acts/readings.ts';
import { settings } from '../../app/settings.ts';
import { openView } from '../../app/tablet.ts';
import { isoWithOffset } from '../../app/time.ts';
import { TypingWay } from '../../app/typing-way.ts';
import { shownIn, typingUnit } from '../../app/units.ts';
import type { Draft } from '../../app/use-draft.ts';
import { someone } from '../../app/who.ts';
import { applyKey, type Key } from '../../parts/apply-key.ts';
import { formatFigure } from '../../parts/format-figure.ts';
import { verdictWord } from '../../parts/verdict.ts';
import { type PassDraft, unitTyped } from './pass-draft.ts';
import { type Fault, type PassInput, partName, readingToKeep, readPass, type Target, unitOf } from './pass-input.ts';
import { shownNow } from './shown.ts';
import { nextOpen, type StationItem, type Survey, surveyOf } from './survey-of.ts';
import { unlikely, unlikelyTemperatures } from './unlikely.ts';

/** One pass over the stations, as the entry sheet works with it. */
export interface Pass extends PassInput {
  readonly change: (change: Partial<PassDraft>) => void;
  readonly target: Target;
  readonly setTarget: (target: Target) => void;
  /** The field that wants the focus now; a new object each time that it does. */
  readonly wanted: { readonly field: Target } | null;
  /** Shown from the Enter that met it until something is typed. */
  readonly shownFault: Fault | null;
  /** The question about an unlikely figure. */
  readonly ask: string | null;
  readonly saved: string | null;
  readonly saving: boolean;
  readonly error: string | null;
  readonly next: StationItem | null;
  /** When the key went down or the character came, as the event tells it: what is drawn in between takes time too. */
  readonly keyedAt: (at_ms: number) => void;
  /** Whether the text came as fast as only a gauge types. */
  readonly isGauge: (at_ms: number) => boolean;
  readonly type: (text: string) => void;
  readonly typeTemperature: (which: 'part' | 'scale', text: string) => void;
  readonly press: (key: Key) => void;
  /** Enter in a field; on the keypad in the one that is typed into. */
  readonly enter: (field?: Target) => void;
  readonly skip: () => void;
  readonly choose: (station: string) => void;
}

interface Answer {
  readonly fault?: Fault;
  readonly ask?: string;
  readonly saved?: string;
  readonly error?: string;
}

/** The station to work on: the one chosen, else the first open one. */
export const currentItem = ({ items, walk }: Survey, { station }: PassDraft): StationItem | null =>
  items.find((i) => i.station.id === station) ?? nextOpen(walk, null) ?? items[0] ?? null;

export function usePass(view: View, survey: Survey, item: StationItem, kept: Draft<PassDraft>, now: Date): Pass {
  const { change, latest } = kept;
  const draft = latest();
  const { id } = item.station;
  const input = readPass(view, survey, item, draft, settings.value, now);
  const waitsForTemperature = input.part !== null && !draft.part?.text;
  const [target, setTarget] = useState<Target>(waitsForTemperature ? 'part' : 'reading');
  const [wanted, setWanted] = useState<Pass['wanted']>(waitsForTemperature ? { field: 'part' } : null);
  const goTo = (field: Target) => {
    setTarget(field);
    setWanted({ field });
  };
  const [answer, setAnswer] = useState<Answer>({});
  const [saving, setSaving] = useState(false);
  const busy = useRef(false);
  const asked = useRef('');
  // They hold for the whole pass: a question about them is asked once, not at each station.
  const askedTemperatures = useRef(new Set<string>());
  const way = useRef(new TypingWay());
  const keyed = useRef<number | null>(null);
  const keyTime = () => {
    const at = keyed.current ?? performance.now();
    keyed.current = null;
    return at;
  };
  useEffect(() => {
    way.current = new TypingWay();
    asked.current = '';
  }, [id]);
  const next = nextOpen(survey.walk, id);

  const type = (text: string) => {
    way.current.text(text, keyTime());
    setAnswer({});
    const { texts, textUnits } = latest();
    const before = { text: texts[id] ?? '', unit: unitOf(survey, item, latest(), settings.value) };
    const unit = unitTyped(before, text, typingUnit(survey.characteristic.unit, settings.value));
    change({ texts: { ...texts, [id]: text }, textUnits: { ...textUnits, [id]: unit } });
  };
  const typeTemperature = (which: 'part' | 'scale', text: string) => {
    setAnswer({});
    const unit = unitTyped(latest()[which], text, typingUnit('°C', settings.value));
    change({ [which]: { text, unit, at: isoWithOffset() } });
  };
  const press = (key: Key) => {
    const { decimalMark } = settings.value;
    if (target === 'reading') type(applyKey(latest().texts[id] ?? '', key, decimalMark));
    else typeTemperature(target, applyKey(latest()[target]?.text ?? '', key, decimalMark));
  };
  const choose = (station: string) => {
    setAnswer({});
    setTarget('reading');
    change({ station });
  };

  const readNow = () => readPass(openView(), survey, item, latest(), settings.value, new Date());

  async function keep(enteredWay: ReturnType<TypingWay['end']>): Promise<void> {
    const who = await someone();
    if (!who) return;
    const entered = readNow();
    if (entered.fault) return setAnswer({ fault: entered.fault });
    const { redo, reason, reasonWords } = latest();
    const { mode, target: old } = redo[id] ?? {};
    const keeping = readingToKeep(entered, who.id, enteredWay, mode === 'again' ? old : replacedBy(item, old));
    if (mode !== 'correct') await recordReading(keeping);
    else if (!(await correctReading(old!, reason, reasonWords || undefined, keeping))) return;
    moveOn(entered, mode === 'correct');
  }

  /** Takes the entered text away and goes to the next station; what was typed meanwhile goes there too. */
  function moveOn(entered: PassInput, stay: boolean): void {
    const { [id]: text = '', ...texts } = latest().texts;
    const { [id]: _unit, ...textUnits } = latest().textUnits;
    const { [id]: _done, ...redo } = latest().redo;
    const more = text === entered.text ? '' : text.startsWith(entered.text) ? text.slice(entered.text.length) : text;
    const after = surveyOf(openView(), survey.operation.id, survey.characteristic.id, latest().named);
    const to = stay ? id : (nextOpen(after?.walk ?? [], id)?.station.id ?? id);
    change({
      texts: more ? { ...texts, [to]: more } : texts,
      textUnits: more ? { ...textUnits, [to]: entered.unit } : textUnits,
      redo,
      station: to,
      ...(stay ? { reason: 'mistyped', reasonWords: '' } : {}),
    });
    setAnswer({ saved: savedWords(entered) });
  }

  /** The first question about the temperatures that nobody has answered yet; it counts as asked. */
  const doubtOf = (entered: PassInput): string | undefined => {
    const typed = (read: PassInput['part']) => (read && 'typed' in read ? read.typed : null);
    const doubt = unlikelyTemperatures(view.plan, {
      part: typed(entered.part),
      scale: typed(entered.scale),
      partName: partName(survey),
    }).find((question) => !askedTemperatures.current.has(question));
    if (doubt) askedTemperatures.current.add(doubt);
    return doubt;
  };
  const enterReading = () => {
    const entered = readNow();
    const enteredWay = way.current.end(keyTime());
    const { fault } = entered;
    if (fault) {
      if (fault.at === 'part' || fault.at === 'scale') goTo(fault.at);
      return setAnswer({ fault });
    }
    const doubt = doubtOf(entered);
    if (doubt) return setAnswer({ ask: doubt });
    const question = unlikely(figureOf(entered));
    if (question && asked.current !== entered.text) {
      asked.current = entered.text;
      return setAnswer({ ask: question });
    }
    busy.current = true;
    setSaving(true);
    void keep(enteredWay)
      .catch((error: unknown) => setAnswer({ error: error instanceof Error ? error.message : String(error) }))
      .finally(() => {
        busy.current = false;
        setSaving(false);
      });
  };
  const enterTemperature = (which: 'part' | 'scale') => {
    const entered = readNow();
    const read = entered[which];
    if (read && 'fault' in read) return setAnswer({ fault: { at: which, words: read.fault } });
    const doubt = doubtOf(entered);
    if (doubt) return setAnswer({ ask: doubt });
    setAnswer({});
    goTo(which === 'part' && !latest().scale?.text ? 'scale' : 'reading');
  };
  return {
    ...input,
    change,
    target,
    setTarget: (field) => {
      setTarget(field);
      // The focus has arrived somewhere: a field that is drawn anew must not take it back.
      setWanted(null);
    },
    wanted,
    shownFault: answer.fault ?? null,
    ask: answer.ask ?? null,
    saved: answer.saved ?? null,
    saving,
    error: answer.error ?? null,
    next,
    keyedAt: (at) => {
      keyed.current = at;
    },
    isGauge: (at) => way.current.end(at) === 'gauge',
    type,
    typeTemperature,
    press,
    enter: (field = target) => {
      if (busy.current) return;
      if (field === 'reading') enterReading();
      else enterTemperature(field);
    },
    skip: () => next && choose(next.station.id),
    choose,
  };
}

/** A correction stands where the struck reading stood: what that one replaced stays replaced. */
const replacedBy = ({ state }: StationItem, struck: string | undefined): string | undefined =>
  state?.current.find((r) => r.hash === struck)?.body.replaces;

/** What stands at the other stations of a survey, as deviations from their nominals, in the characteristic's unit. */
const othersOf = ({ items }: Survey, id: string): number[] =>
  items.flatMap((i) => (i.value === null || i.station.id === id ? [] : [i.value - (i.limits.nominal ?? 0)]));

/** @param others deviations at other stations, in the characteristic's unit */
export function figureOf(
  { text, unit, read, judgement, item, survey }: PassInput,
  others: readonly number[] = othersOf(survey, item.station.id),
): Parameters<typeof unlikely>[0] {
  const typedIn = shownIn(survey.characteristic, unit);
  return {
    text,
    read: 'typed' in read ? typedIn.value(read.typed.value) : 0,
    value: typedIn.value(judgement!.value),
    limits: typedIn.limits(judgement!.limits),
    unit: typedIn.unit,
    decimals: typedIn.decimals,
    others: others.map((by) => typedIn.span(by)),
  };
}

function savedWords({ item, judgement, survey, instrument }: PassInput): string {
  const { unit, decimals, value } = shownNow(survey.characteristic);
  const figure = `${formatFigure(value(judgement!.value), { decimals })} ${unit}`.trim();
  const verdict = judgement!.verdict === null ? '' : `, ${verdictWord(judgement!.verdict)}`;
  const flag = instrument?.calibrated === false ? `; flagged: ${instrument.instrument.id} is out of calibration` : '';
  return `Saved: ${item.station.label}, ${figure}${verdict}${flag}`;
}
