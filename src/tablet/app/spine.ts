import { holdState } from '../../../shared/logbook/state/holds.ts';
import { mark } from '../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import type { SpineProps, Stage } from '../parts/spine.tsx';
import { gateState } from './gate-state.ts';

/** The steel rule from the log: what is finished, the gates, and where the work is. */
export function spineOf(view: View): SpineProps {
  const stages = view.plan.stages.map((stage) => stageOf(view, stage.id, stage.name));
  return { stages, now: stageNow(view), href: '/sequence' };
}

function stageOf(view: View, id: string, name: string): Stage {
  const operations = view.plan.operations.filter((o) => o.stage === id);
  const finished = operations.map((o) => mark(view, o.id, 'finished') !== null);
  const done = finished.findIndex((f) => !f);
  const inOrder = done < 0 ? operations.length : done;
  const gates = view.plan.holds.flatMap((hold) => {
    const index = operations.findIndex((o) => o.id === hold.after);
    if (index < 0) return [];
    return [
      {
        at: (index + 1) / operations.length,
        state: gateState(view, holdState(view, hold)),
        name: `${hold.id}, ${hold.name}`,
      },
    ];
  });
  return {
    name,
    operations: operations.length,
    done: inOrder,
    ahead: finished.filter(Boolean).length - inOrder,
    gates,
  };
}

/** The stage of the first operation that is not finished. */
function stageNow(view: View): number | null {
  const next = view.plan.operations.find((o) => mark(view, o.id, 'finished') === null);
  if (!next) return null;
  return view.plan.stages.findIndex((s) => s.id === next.stage);
}
