import { type Arrangement, arrangements } from './arrangements.ts';
import type { Fact } from './findings.ts';
import { workOn } from './sequence.ts';
import type { View } from './view.ts';

const HOUR_MS = 3_600_000;

/**
 * Arrangements of an operation that ran past their end, by the times in the log alone: two tablets find the same, and
 * the wall clock invents nothing. One that was ended late is found too, and closed by its end.
 */
export const arrangementFacts = (view: View, operation: string): Fact[] =>
  arrangements(view)
    .filter((a) => a.line.body.operation === operation)
    .flatMap((a) => factOf(view, a));

function factOf(view: View, { id, line, ended, endsAt_ms }: Arrangement): Fact[] {
  if (endsAt_ms === null) return [];
  const until_ms = ended ? Date.parse(ended.entry.observedAt) : logReaches_ms(view);
  if (until_ms <= endsAt_ms) return [];
  const owner = view.standing.person(line.body.owner)?.name ?? 'somebody not admitted';
  return [
    {
      rule: 'overdue-arrangement',
      // The line is part of the name: what was decided on one end does not cover a later one.
      subject: [id, line.hash],
      operation: line.body.operation,
      severity: 'minor',
      blocks: null,
      title: `Temporary arrangement past its end: ${line.body.what}`,
      words: ended
        ? `It was ended ${((until_ms - endsAt_ms) / HOUR_MS).toFixed(1)} h late: ${ended.body.words}`
        : `Nobody has ended or extended it. Owner: ${owner}.`,
      causes: [line.hash],
      settled: ended !== null,
    },
  ];
}

/** The last moment that work in the casting was observed at, ms; as far as this log goes. */
const logReaches_ms = (view: View): number =>
  view.memo.get('log reaches', () => Math.max(...view.plan.operations.map((o) => lastWork_ms(view, o.id))));

const lastWork_ms = (view: View, operation: string): number =>
  view.memo.get(`last work/${operation}`, () =>
    workOn(view, operation).reduce((last, { entry }) => Math.max(last, Date.parse(entry.observedAt)), -Infinity),
  );
