import { useEffect, useMemo, useState } from 'preact/hooks';
import { type CoreLayer, type CoreState, coreStates } from '../../../../../shared/logbook/state/core-marks.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';

export type CoreStates = ReadonlyMap<string, CoreState>;

/** What a frame can spare, ms. */
const SLICE_MS = 12;
/** Cores between two looks at the clock. */
const LOOK_EVERY = 16;

/**
 * Every core's state. What was worked out before is there at once; of thousands that are not, a few are worked out in
 * each frame, and the map stands with what it had: null until the first time.
 */
export function useCoreStates(view: View, operation: string, layers: readonly CoreLayer[]): CoreStates | null {
  const key = layers.map((l) => (l.kind === 'item' ? l.item : l.characteristic.id)).join();
  const work = useMemo(() => startWork(view, operation, layers, key), [view, operation, key]);
  const [kept, keep] = useState<{ of: string; states: CoreStates } | null>(null);
  useEffect(() => {
    if (work.states) return keep({ of: key, states: work.states });
    let timer = 0;
    const go = () => {
      if (work.states !== null || goOn(work)) keep({ of: key, states: work.states! });
      else timer = window.setTimeout(go);
    };
    timer = window.setTimeout(go);
    return () => clearTimeout(timer);
  }, [work]);
  return work.states ?? (kept?.of === key ? kept.states : null);
}

interface Work {
  readonly steps: ReturnType<typeof coreStates>;
  states: CoreStates | null;
}

/** What was counted of a log as it stands: a screen that is opened again finds it. */
const counted = new WeakMap<View, Map<string, Work>>();

function startWork(view: View, operation: string, layers: readonly CoreLayer[], key: string): Work {
  const name = `${operation} ${key}`;
  const known = counted.get(view) ?? new Map<string, Work>();
  counted.set(view, known);
  const found = known.get(name);
  if (found) return found;
  const work: Work = { steps: coreStates(view, operation, layers), states: null };
  known.set(name, work);
  goOn(work);
  return work;
}

/** True when it is done. */
function goOn(work: Work): boolean {
  const until = performance.now() + SLICE_MS;
  do {
    for (let i = 0; i < LOOK_EVERY; i++) {
      const step = work.steps.next();
      if (!step.done) continue;
      work.states = step.value;
      return true;
    }
  } while (performance.now() < until);
  return false;
}
