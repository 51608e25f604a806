import { type Heat, type HeatRound, roundAbout, roundsNow } from '../../../shared/logbook/state/rounds.ts';
import { live } from '../../../shared/logbook/state/strikes.ts';
import type { View } from '../../../shared/logbook/state/view.ts';

/** Rounds missed one after another, said as one. */
export interface MissedRun {
  readonly first: HeatRound;
  readonly last: HeatRound;
  readonly count: number;
  /** What was said about it. */
  readonly reason: string | null;
}

/** The missed rounds of a heat in runs, newest first. All that were missed, and none besides. */
export function missedRunsAt(view: View, heat: Heat, now_ms: number): MissedRun[] {
  const runs: HeatRound[][] = [];
  for (const round of roundsNow(heat, now_ms).missed) {
    const run = runs.at(-1);
    if (run && run.at(-1)!.number === round.number - 1 && reasonOf(view, heat, round) === reasonOf(view, heat, run[0]!))
      run.push(round);
    else runs.push([round]);
  }
  return runs.reverse().map((run) => ({
    first: run[0]!,
    last: run.at(-1)!,
    count: run.length,
    reason: reasonOf(view, heat, run[0]!),
  }));
}

function reasonOf(view: View, heat: Heat, round: HeatRound): string | null {
  return live(view, `note/${roundAbout(heat.plan.id, round.number)}`, 'note').at(-1)?.body.text ?? null;
}
