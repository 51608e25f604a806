import { characteristicById, stationsOf } from '../../plan/lookup.ts';
import type { Operation } from '../../plan/schema.ts';
import type { Answer } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { byTime } from './by-time.ts';
import { checkedStations } from './checks.ts';
import { stationStates } from './readings.ts';
import { measuredOf, stationsAsked } from './stations-asked.ts';
import { anyKind, type View } from './view.ts';

/** What fills a line of the check sheet without anybody answering it for the whole. */
export interface FilledLine {
  readonly answer: Answer;
  /** The entry that made it whole: the last of them. */
  readonly by: Kept;
  /** At how many stations it was answered or read. */
  readonly stations: number;
  readonly of: 'answers' | 'readings';
}

/**
 * A line that is answered at every station of its set, or whose characteristic is read wherever that is asked for. Null
 * while something is missing, or was answered no: what is done about a no is a person's answer for the whole.
 */
export function filledLine(view: View, operation: string, check: Operation['checks'][number]): FilledLine | null {
  if (check.stations !== undefined) return byAnswers(view, operation, check.id, check.stations);
  return check.reads === undefined ? null : byReadings(view, operation, check.reads);
}

function byAnswers(view: View, operation: string, item: string, set: string): FilledLine | null {
  const answers = checkedStations(view, operation, item);
  const asked = view.plan.stationSets[set] ?? [];
  if (asked.length === 0 || answers.size < asked.length) return null;
  const said = asked.map(({ id }) => answers.get(id));
  if (said.some((a) => a === undefined || a.answer === 'no')) return null;
  const last = [...new Set(said.map((a) => anyKind(a!.by)))].sort(byTime).at(-1)!;
  const applies = said.some((a) => a!.answer === 'yes');
  return { answer: applies ? 'yes' : 'not-applicable', by: last, stations: asked.length, of: 'answers' };
}

function byReadings(view: View, operation: string, id: string): FilledLine | null {
  const characteristic = characteristicById(view.plan, id);
  if (!characteristic) return null;
  const states = [...stationStates(view, operation, id).values()].filter((s) => s.current.length > 0);
  if (states.length === 0 || stationsOf(view.plan, characteristic).length === 0) return null;
  const within = states.every((s) => s.verdict === 'within' || s.verdict === null);
  const drawn = view.judge?.sample(view, characteristic, operation) ?? null;
  const asked = stationsAsked(view.plan, characteristic, operation, within, drawn);
  if (measuredOf(asked, new Set(states.map((s) => s.station))) < asked.least) return null;
  let last: Kept | null = null;
  for (const { current } of states)
    for (const reading of current) if (last === null || byTime(anyKind(reading), last) > 0) last = anyKind(reading);
  return { answer: 'yes', by: last!, stations: states.length, of: 'readings' };
}
