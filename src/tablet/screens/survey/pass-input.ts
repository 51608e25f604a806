import { RefusedInput } from '../../../../shared/calculations/calculation.ts';
import type { EntryWay } from '../../../../shared/logbook/kinds.ts';
import { conditionsOf, type Judgement, judgeReading } from '../../../../shared/logbook/state/judge-reading.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { ReadingToKeep } from '../../acts/readings.ts';
import { readObserved } from '../../app/observed-at.ts';
import { type Read, readFigure } from '../../app/read-figure.ts';
import type { Settings } from '../../app/settings.ts';
import { isoWithOffset } from '../../app/time.ts';
import { typingUnit, type Units } from '../../app/units.ts';
import { type InstrumentChoice, instrumentChoices, usualInstrument } from './instruments-for.ts';
import type { PassDraft, TypedTemperature } from './pass-draft.ts';
import { readReading } from './read-typed.ts';
import type { StationItem, Survey } from './survey-of.ts';

/** Where what a person types goes. */
export type Target = 'reading' | 'part' | 'scale';

/** Why Enter cannot keep the reading, and at which field. */
export interface Fault {
  readonly at: Target | 'instrument' | 'paper';
  readonly words: string;
}

/** All that a pass holds for its station, read. */
export interface PassInput {
  readonly view: View;
  readonly survey: Survey;
  readonly item: StationItem;
  readonly draft: PassDraft;
  readonly text: string;
  /** The unit in which the reading is typed. */
  readonly unit: string;
  readonly read: Read;
  readonly part: Read | null;
  readonly scale: Read | null;
  readonly choices: readonly InstrumentChoice[];
  /** Null for none; with `unchosen` nobody has said so yet. */
  readonly instrument: InstrumentChoice | null;
  readonly unchosen: boolean;
  readonly judgement: Judgement | null;
  readonly fault: Fault | null;
  readonly observedAt: string | undefined;
}

/** What a temperature of this characteristic's part is called. */
export const partName = ({ characteristic }: Survey): string => (characteristic.id.startsWith('tub') ? 'Tub' : 'Part');

export function readPass(
  view: View,
  survey: Survey,
  item: StationItem,
  draft: PassDraft,
  settings: Settings,
  now: Date,
): PassInput {
  const { characteristic } = survey;
  const text = draft.texts[item.station.id] ?? '';
  const unit = unitOf(survey, item, draft, settings);
  const read = readReading(text, unit, characteristic, item.inForce);
  const part = characteristic.at20 ? readTemperature(draft.part) : null;
  const scale = characteristic.at20 ? readTemperature(draft.scale) : null;
  const paper = draft.paper && readObserved(draft.paper.date, draft.paper.time, view.genesis.timeZone, now);
  const observedAt = paper && 'at' in paper ? isoWithOffset(paper.at) : undefined;
  const choices = instrumentChoices(view, survey, observedAt ?? isoWithOffset(now));
  const id = draft.instrument === undefined ? usualInstrument(view, survey, choices) : draft.instrument;
  const instrument = choices.find((c) => c.instrument.id === id) ?? null;
  const unchosen = instrument === null && id !== null && characteristic.instruments.length > 0;
  const base = { view, survey, item, draft, text, unit, read, part, scale, choices, instrument, unchosen, observedAt };
  const judged = judgeTyped(base);
  return {
    ...base,
    judgement: 'judgement' in judged ? judged.judgement : null,
    fault: faultOf(base, paper && 'fault' in paper ? paper.fault : null, 'fault' in judged ? judged.fault : null),
  };
}

/** The unit in which the reading of a station is typed. */
export function unitOf({ characteristic }: Survey, { station }: StationItem, draft: PassDraft, units: Units): string {
  const begun = draft.texts[station.id] ? draft.textUnits[station.id] : undefined;
  return begun ?? typingUnit(characteristic.unit, units);
}

const readTemperature = (typed: TypedTemperature | null): Read =>
  readFigure(typed?.text ?? '', typed?.unit ?? '°C', '°C');

type Unjudged = Omit<PassInput, 'judgement' | 'fault'>;

function judgeTyped({
  view,
  survey,
  item,
  read,
  part,
  scale,
  instrument,
}: Unjudged): { judgement: Judgement | null } | { fault: string } {
  if (!('typed' in read)) return { judgement: null };
  const temperatures =
    part && scale && 'typed' in part && 'typed' in scale
      ? { part_C: part.typed.value, scale_C: scale.typed.value }
      : undefined;
  if (survey.characteristic.at20 && !temperatures) return { judgement: null };
  try {
    const judgement = judgeReading({
      plan: view.plan,
      operation: survey.operation.id,
      characteristic: survey.characteristic,
      station: item.station.id,
      read: read.typed.value,
      temperatures,
      instrument: instrument?.instrument.line ?? null,
    });
    return Number.isFinite(judgement.value)
      ? { judgement }
      : { fault: 'These numbers lead outside what can be worked out.' };
  } catch (error) {
    if (error instanceof RefusedInput) return { fault: refusal(error) };
    throw error;
  }
}

const INPUT_NAMES: Readonly<Record<string, string>> = {
  length_mm: 'The length',
  part_temperature_C: 'The part temperature',
  scale_temperature_C: 'The scale temperature',
  scale_expansion_per_K: 'The expansion of the scale',
};

const refusal = ({ path, message }: RefusedInput): string => `${INPUT_NAMES[path] ?? 'This'} ${message}.`;

function faultOf(input: Unjudged, paper: string | null, refused: string | null): Fault | null {
  const { read, part, scale, unchosen, survey, draft } = input;
  if ('fault' in read) return { at: 'reading', words: read.fault };
  const name = partName(survey).toLowerCase();
  if (part && 'fault' in part)
    return { at: 'part', words: draft.part?.text ? part.fault : `Type the ${name} temperature first.` };
  if (scale && 'fault' in scale)
    return { at: 'scale', words: draft.scale?.text ? scale.fault : 'Type the scale temperature first.' };
  if (paper) return { at: 'paper', words: paper };
  if (unchosen) return { at: 'instrument', words: noInstrumentWords(input) };
  return refused === null ? null : { at: 'reading', words: refused };
}

function noInstrumentWords({ view, survey, choices }: Unjudged): string {
  const names = survey.characteristic.instruments.map(
    (id) => view.plan.instrumentClasses.find((c) => c.id === id)?.name.toLowerCase() ?? id,
  );
  const wanted = names.join(' or ');
  return choices.length === 0
    ? `No instrument is registered. This is read with: ${wanted}.`
    : `No instrument for this is registered: ${wanted}. Choose another, or go on without.`;
}

/** The entry that Enter writes. */
export function readingToKeep(input: PassInput, recorder: string, way: EntryWay, replaces?: string): ReadingToKeep {
  const { view, survey, item, draft, read, part, scale, instrument, judgement, observedAt } = input;
  if (!('typed' in read) || !judgement) throw new Error('Nothing to keep: the reading is not complete');
  const { value, limits, standardUncertainty, guard, verdict, calculations, length } = judgement;
  return {
    ...(observedAt === undefined ? {} : { observedAt }),
    body: {
      operation: survey.operation.id,
      characteristic: survey.characteristic.id,
      station: item.station.id,
      typed: read.typed,
      conditions:
        length && part && scale && 'typed' in part && 'typed' in scale
          ? conditionsOf(length, part.typed, scale.typed)
          : {},
      value,
      limits: { ...limits },
      standardUncertainty,
      guard,
      verdict,
      plan: view.planHash,
      calculations: { ...calculations },
      instrument: instrument?.instrument.id ?? null,
      observer: draft.observer ?? recorder,
      way: draft.paper ? 'paper' : way,
      ...(replaces === undefined ? {} : { replaces }),
    },
  };
}
