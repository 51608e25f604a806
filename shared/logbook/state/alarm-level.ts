import { workedOut as by, given } from '../../calculations/calculation.ts';
import { settling } from '../../calculations/settling.ts';
import type { Alarm, AlarmWatch } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { type Hit, HOUR_MS, hoursFrom } from './alarm-round.ts';
import type { Raw } from './derived-value.ts';
import { stationLabel } from './findings.ts';
import { isReplaced } from './readings.ts';
import { Strand } from './strand.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

type Watch = Extract<AlarmWatch, { on: 'level' }>;

/** The fit asks for so many. */
const LEAST_READINGS = 5;

/** One reading of a level, with what it says. */
export interface LevelAnswer {
  readonly kept: Kept<'reading'> | null;
  readonly at_ms: number;
  readonly level_mm: number;
  /** When the level had come to rest; null before. */
  readonly settled_ms: number | null;
  /** Undefined where it cannot be judged. */
  readonly hit: Hit | null | undefined;
}

const strands = new WeakMap<Alarm, { root: LevelAnswer; strand: Strand<Kept<'reading'>, LevelAnswer> }>();

function strandOf(alarm: Alarm): { root: LevelAnswer; strand: Strand<Kept<'reading'>, LevelAnswer> } {
  const found = strands.get(alarm);
  if (found) return found;
  const root = { kept: null, at_ms: Number.NEGATIVE_INFINITY, level_mm: 0, settled_ms: null, hit: undefined };
  const made = { root, strand: new Strand<Kept<'reading'>, LevelAnswer>() };
  strands.set(alarm, made);
  return made;
}

/** A10: the readings of the level in an operation, by station, each judged from those before it. */
export function levelAnswers(view: View, operation: string, alarm: Alarm, watch: Watch): Map<string, LevelAnswer[]> {
  const byStation = new Map<string, Kept<'reading'>[]>();
  for (const reading of live(view, `reading/${operation}/${watch.characteristic}`, 'reading')) {
    if (isReplaced(view, reading)) continue;
    const { station } = reading.body;
    byStation.set(station, [...(byStation.get(station) ?? []), reading]);
  }
  const { root, strand } = strandOf(alarm);
  return new Map(
    [...byStation].sort().map(([station, readings]) => {
      const label = stationLabel(view, watch.characteristic, station);
      return [
        station,
        strand.follow(root, readings.sort(byObserved), (before, kept) => answerOf(watch, label, before, kept)),
      ];
    }),
  );
}

const byObserved = (a: Kept<'reading'>, b: Kept<'reading'>): number =>
  Date.parse(a.entry.observedAt) - Date.parse(b.entry.observedAt) || (a.hash < b.hash ? -1 : 1);

function answerOf(watch: Watch, label: string, before: readonly LevelAnswer[], kept: Kept<'reading'>): LevelAnswer {
  const at_ms = Date.parse(kept.entry.observedAt);
  const bare: LevelAnswer = { kept, at_ms, level_mm: kept.body.value, settled_ms: null, hit: undefined };
  const all = [...before.slice(1), bare];
  const { settled_ms } = before.at(-1)!;
  if (settled_ms === null) return { ...bare, settled_ms: isSettled(watch, all) ? at_ms : null };
  return { ...bare, settled_ms, hit: fallOf(watch, label, all, settled_ms) };
}

/** What is left to fall at each port that has settled, as the release asks for it; nothing before that. */
export function levelsLeft(view: View, operation: string): Raw[] {
  const alarm = view.plan.alarms.find((a) => a.watch?.on === 'level');
  const { watch } = alarm ?? {};
  if (!alarm || watch?.on !== 'level') return [];
  return [...levelAnswers(view, operation, alarm, watch)].flatMap(([station, answers]): Raw[] => {
    if (!hasTimes(answers)) return [];
    const input = inputOf(answers, watch.settled_mm);
    const { settled, remaining_mm } = settling.compute(input);
    if (!settled || remaining_mm === null) return [];
    return [
      {
        station,
        value: remaining_mm,
        causes: answers.map((a) => a.kept!.hash),
        worked: { calculation: settling.name, input },
      },
    ];
  });
}

const inputOf = (readings: readonly LevelAnswer[], settled_mm: number) => ({
  readings: readings.map(({ at_ms, level_mm }) => ({ at_h: hoursFrom(readings[0]!.at_ms, at_ms), level_mm })),
  settled_mm,
});

const isSettled = ({ settled_mm }: Watch, readings: readonly LevelAnswer[]): boolean =>
  hasTimes(readings) && settling.compute(inputOf(readings, settled_mm)).settled;

/** The calculation refuses fewer than three different times. */
const hasTimes = (readings: readonly LevelAnswer[]): boolean =>
  readings.length >= LEAST_READINGS && new Set(readings.map((r) => r.at_ms)).size >= 3;

/**
 * The fall of the last hour, or of the last five readings, since the level had settled. A curve that comes to rest is a
 * gap that fills late; only a fall without an end is a leak.
 */
function fallOf(watch: Watch, label: string, all: readonly LevelAnswer[], settled_ms: number): Hit | null | undefined {
  const since = all.filter((r) => r.at_ms >= settled_ms);
  const from_ms = all.at(-1)!.at_ms - watch.window_h * HOUR_MS;
  const inWindow = since.filter((r) => r.at_ms >= from_ms);
  const readings = inWindow.length < LEAST_READINGS ? since.slice(-LEAST_READINGS) : inWindow;
  if (!hasTimes(readings)) return undefined;
  const input = inputOf(readings, watch.settled_mm);
  const fall_mm_h = -(settling.compute(input).rate_mm_h ?? 0);
  if (fall_mm_h <= watch.most_mm_h) return null;
  return {
    words: `The level at ${label} had settled and falls at ${fall_mm_h.toFixed(1)} mm/h over ${readings.length} readings; more than ${watch.most_mm_h} mm/h is taken for a leak.`,
    excess: fall_mm_h / watch.most_mm_h,
    lines: [
      given('settled', 'the level had come to rest at', new Date(settled_ms).toISOString(), '', 'settling'),
      given('limit', 'most that it may fall', watch.most_mm_h, 'mm/h', 'alarm of the plan'),
      by('−rate', 'beyond the limit', fall_mm_h, 'mm/h', 'least squares', 'settling, below'),
    ],
    worked: { calculation: settling.name, input },
  };
}
