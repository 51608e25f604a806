import type { HeatPlan } from '../../plan/schema.ts';
import { firstWork } from './sequence.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

export interface DueRound {
  readonly at_h: number;
  readonly segment: number;
  readonly extent: 'full' | 'key';
  readonly every_h: number;
}

export interface RoundsState {
  readonly due: number;
  readonly recorded: number;
  readonly missed: readonly DueRound[];
}

/** The rounds that a heat plan asks for, from its start: one at each interval, the segment's own. */
export function dueRounds(plan: HeatPlan): DueRound[] {
  const due: DueRound[] = [];
  let start_h = 0;
  let from_C = plan.start_C;
  plan.segments.forEach((segment, index) => {
    const hours = segment.soak_h ?? Math.abs(segment.to_C - from_C) / segment.rate_K_h!;
    for (const { extent, every_h } of segment.rounds) {
      // A round at a join belongs to the later segment.
      for (let n = 0; n * every_h < hours - 1e-9; n++)
        due.push({ at_h: start_h + n * every_h, segment: index + 1, extent, every_h });
    }
    start_h += hours;
    from_C = segment.to_C;
  });
  return due.sort((a, b) => a.at_h - b.at_h);
}

/** Which due rounds of a heat have been written. A round counts for the due time that it names. */
export function roundsState(view: View, heatPlan: string, operation: string): RoundsState {
  return view.memo.get(`rounds/${operation}`, () => {
    const plan = view.plan.heatPlans.find((p) => p.id === heatPlan);
    const start = firstWork(view, operation);
    if (!plan || !start) return { due: 0, recorded: 0, missed: [] };
    const start_ms = Date.parse(start.entry.observedAt);
    const written = live(view, `round/${operation}`, 'round').map((r) =>
      Date.parse(r.body.dueAt ?? r.entry.observedAt),
    );
    const due = dueRounds(plan);
    const missed = due.filter((d) => {
      const at_ms = start_ms + d.at_h * 3_600_000;
      const slack_ms = Math.max(d.every_h * 360_000, 300_000);
      return !written.some((w) => Math.abs(w - at_ms) <= slack_ms);
    });
    return { due: due.length, recorded: due.length - missed.length, missed };
  });
}
