import { doubtWords } from '../../../../shared/logbook/state/doubt-words.ts';
import { findings } from '../../../../shared/logbook/state/findings.ts';
import { hallOf } from '../../../../shared/logbook/state/hall.ts';
import { type HoldState, holdState } from '../../../../shared/logbook/state/holds.ts';
import { operationAt } from '../../../../shared/logbook/state/round-facts.ts';
import { heatInWork, roundsNow } from '../../../../shared/logbook/state/rounds.ts';
import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { frameFacts } from '../../app/frame-facts.ts';
import type { HoldFacts, NowShard, WorkFacts } from '../../app/now-shard.ts';
import { workOut } from '../../app/work-out.ts';
import { byGravity } from '../../shared-screens/finding-gravity.ts';
import { holdWords, nextStep, openWork, stepButton, stepHref, stepWords } from '../../shared-screens/next-work.ts';
import { arrangementFacts } from './arrangement-facts.ts';
import { handoverFacts } from './handover-facts.ts';

const ALSO = 3;
const LINES = 3;
const FINDINGS = 3;
/** More than a fortnight of hourly rounds. */
const ROUNDS = 400;

/** What the first screen says of a view, as plain data. `at_ms` only picks the operation that the heat is in. */
export function nowFacts(view: View, at_ms: number): NowShard {
  const pieces = nowPieces(view, at_ms);
  for (;;) {
    const piece = pieces.next();
    if (piece.done) return piece.value;
  }
}

/** The same, piece by piece; of a long log that came in anew each takes a while. */
export function* nowPieces(view: View, at_ms: number): Generator<void, NowShard> {
  yield* workOut(view);
  const open = findings(view)
    .filter((f) => f.state === 'open')
    .sort(byGravity);
  yield;
  const work: WorkFacts[] = [];
  for (const state of openWork(view)) {
    work.push(workFacts(view, state));
    yield;
  }
  const heat = heatFacts(view, at_ms);
  yield;
  const frame = frameFacts(view);
  yield;
  return {
    frame,
    people: view.standing.people(),
    heat,
    next: work[0] ?? null,
    also: work.slice(1, 1 + ALSO),
    alsoMore: Math.max(0, work.length - 1 - ALSO),
    holds: holdFacts(view),
    findings: open
      .slice(0, FINDINGS)
      .map(({ id, title, severity, state, operation, blocks }) => ({ id, title, severity, state, operation, blocks })),
    findingsMore: Math.max(0, open.length - FINDINGS),
    hall: hallOf(view),
    arrangements: arrangementFacts(view),
    handovers: handoverFacts(view),
  };
}

function heatFacts(view: View, at_ms: number): NowShard['heat'] {
  const heat = heatInWork(view);
  if (heat?.ended_ms !== null) return null;
  const { missed } = roundsNow(heat, at_ms);
  const rounds = heat.rounds.filter((r) => r.written === null && r.missedFrom_ms > at_ms).slice(0, ROUNDS);
  return { operation: operationAt(view, heat, at_ms), missed: missed.length, rounds };
}

function workFacts(view: View, state: OperationState): WorkFacts {
  const { operation, progress } = state;
  const step = nextStep(view, state);
  const names = operation.cautions.flatMap((id) => view.plan.cautions.find((c) => c.id === id)?.name ?? []);
  return {
    id: operation.id,
    lead: `next, operation ${operation.id}, ${progress === 'ready' ? 'ready' : 'under way'}`,
    title: operation.name,
    step: stepWords(step),
    href: stepHref(operation.id, step),
    button: stepButton(step),
    cautions: names.length > 0 ? `Cautions: ${names.join(', ')}. ${view.plan.cautionClosing}` : '',
  };
}

/** Those in doubt, and the next one. */
function holdFacts(view: View): HoldFacts[] {
  const waiting = view.plan.holds.map((hold) => holdState(view, hold)).filter((h) => h.status !== 'released');
  const next = waiting.find((h) => h.status !== 'in-doubt');
  return waiting
    .filter((h) => h.status === 'in-doubt' || h === next)
    .map((state) => {
      const lines = linesOf(view, state);
      const { id, name } = state.hold;
      return {
        id,
        name,
        status: state.status,
        words: holdWords(state),
        lines: lines.slice(0, LINES),
        more: Math.max(0, lines.length - LINES),
      };
    });
}

const linesOf = (view: View, state: HoldState): string[] =>
  state.status === 'in-doubt'
    ? [...new Set(state.doubts.map((d) => doubtWords(view, d)))]
    : state.missing.map((m) => `${m.title}: ${m.words}`);
