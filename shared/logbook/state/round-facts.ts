import type { Fact } from './findings.ts';
import { type Heat, type HeatRound, missedRuns, type RoundsState, roundsState } from './rounds.ts';
import { firstWork } from './sequence.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

const HOUR_MS = 3_600_000;
const LATE_MS = 4 * HOUR_MS;

/** What is found about the rounds of an operation: those missed, a finding a run, and those written late. */
export function roundFacts(view: View, operation: string): Fact[] {
  const missed = view.plan.heatPlans
    .filter((plan) => plan.operations.includes(operation))
    .flatMap((plan) => {
      const state = roundsState(view, plan.id);
      const { heat } = state;
      if (!heat) return [];
      return missedRuns(state)
        .filter(([first]) => operationAt(view, heat, first!.due_ms) === operation)
        .map((run) => missedFact(state, heat, operation, run));
    });
  return [...missed, ...lateFacts(view, operation)];
}

/** The operation of a heat that ran at an instant: the last one begun by then. */
export function operationAt(view: View, heat: Heat, at_ms: number): string {
  const begun = heat.plan.operations.filter((o) => {
    const first = firstWork(view, o);
    return first !== null && Date.parse(first.entry.observedAt) <= at_ms;
  });
  return begun.at(-1) ?? heat.plan.operations[0]!;
}

function missedFact(state: RoundsState, heat: Heat, operation: string, run: readonly HeatRound[]): Fact {
  const first = run[0]!;
  const last = run.at(-1)!;
  const many = run.length > 1;
  const soak = heat.plan.segments[first.segment - 1]!.soak_h !== undefined;
  return {
    rule: 'missed-round',
    // The last one is part of the name: what was decided on one missed round does not cover the next.
    subject: [heat.plan.id, String(first.number), String(last.number)],
    operation,
    severity: many ? 'major' : 'minor',
    blocks: null,
    title: many
      ? `Rounds ${first.number} to ${last.number} of heat ${heat.plan.id} missed`
      : `Round ${first.number} of heat ${heat.plan.id} missed`,
    words: `${many ? `${run.length} rounds in a row were` : 'It was'} not written, segment ${first.segment}${soak ? ', at a soak' : ''}. ${first.number} was due ${first.at_h.toFixed(1)} h into the heat. ${state.recorded} of ${state.due} are written.`,
    causes: [heat.start.hash],
    settled: false,
  };
}

function lateFacts(view: View, operation: string): Fact[] {
  return live(view, `round/${operation}`, 'round').flatMap(({ entry, hash, body }): Fact[] => {
    const late_ms = Date.parse(entry.recordedAt) - Date.parse(entry.observedAt);
    if (late_ms <= LATE_MS) return [];
    return [
      {
        rule: 'late',
        subject: [hash],
        operation,
        severity: 'minor',
        blocks: null,
        title: `Round of heat ${body.heatPlan}: written ${Math.floor(late_ms / HOUR_MS)} h late`,
        words: 'Accept it with a reason.',
        causes: [hash],
        settled: false,
      },
    ];
  });
}
