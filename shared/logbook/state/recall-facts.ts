import { characteristicById } from '../../plan/lookup.ts';
import type { Kept } from '../log.ts';
import { dayAndTime } from '../time-words.ts';
import type { Fact } from './findings.ts';
import { instruments, type Question, questionOf } from './instruments.ts';
import { stationStates } from './readings.ts';
import type { View } from './view.ts';

interface InQuestion {
  readonly question: Question;
  readonly instrument: string;
  readonly readings: Kept<'reading'>[];
  /** Those of them that stand. */
  standing: number;
}

/** What was read with an instrument that was found bad: one finding for each characteristic, whatever the stations. */
export function recallFacts(view: View, operation: string): Fact[] {
  if (instruments(view).every((i) => i.questions.length === 0)) return [];
  return view.log
    .scopeNames(`reading/${operation}/`)
    .map((scope) => scope.split('/')[2]!)
    .flatMap((characteristic) =>
      [...inQuestion(view, operation, characteristic).values()].map((found) =>
        factOf(view, operation, characteristic, found),
      ),
    );
}

function inQuestion(view: View, operation: string, characteristic: string): Map<string, InQuestion> {
  const found = new Map<string, InQuestion>();
  for (const { current, history } of stationStates(view, operation, characteristic).values()) {
    for (const reading of history) {
      const question = view.standing.counts(reading) ? questionOf(view, reading) : null;
      if (!question) continue;
      const group = found.get(question.by) ?? {
        question,
        instrument: reading.body.instrument!,
        readings: [],
        standing: 0,
      };
      group.readings.push(reading);
      if (current.includes(reading)) group.standing += 1;
      found.set(question.by, group);
    }
  }
  return found;
}

function factOf(view: View, operation: string, characteristic: string, found: InQuestion): Fact {
  const { question, instrument, readings, standing } = found;
  const name = characteristicById(view.plan, characteristic)?.name ?? characteristic;
  const count = standing || readings.length;
  return {
    rule: 'instrument-bad',
    subject: [operation, characteristic, question.by],
    operation,
    characteristic,
    severity: 'major',
    blocks: null,
    title: `${name}: ${count} ${count === 1 ? 'reading' : 'readings'} with ${instrument}, which was found bad`,
    words: `${questionWords(view, question)} Measure again with another instrument, or agree a concession.`,
    causes: [...readings.map((r) => r.hash), question.by],
    settled: standing === 0,
  };
}

/** "Found bad on day 12, 14:05; in question is what was read since day 3, 06:00: dropped on its anvil." */
export function questionWords(view: View, { since, foundAt, words }: Question): string {
  const when = (at: string) => (at.length === 10 ? at : dayAndTime(at, view.genesis.dayOne, view.genesis.timeZone));
  const said = words ? `: ${words.replace(/\.$/, '')}.` : '.';
  return `Found bad ${when(foundAt)}; in question is what was read since ${when(since)}${said}`;
}
