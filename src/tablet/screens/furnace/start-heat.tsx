import { useState } from 'preact/hooks';
import { segmentEnds, segmentWords } from '../../../../shared/logbook/state/heat.ts';
import { dueRounds, heatOf } from '../../../../shared/logbook/state/rounds.ts';
import { operationState } from '../../../../shared/logbook/state/sequence.ts';
import { isReleased } from '../../../../shared/logbook/state/signatures.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { HeatPlan } from '../../../../shared/plan/schema.ts';
import { startHeat } from '../../acts/rounds.ts';
import { readObserved } from '../../app/observed-at.ts';
import { clockTime, isoWithOffset, now } from '../../app/time.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { PastMoment, type TypedMoment } from '../../shared-screens/past-moment.tsx';

/** Heats that nobody has started and whose operation could be worked on. */
export const heatsToStart = (view: View): HeatPlan[] =>
  view.plan.heatPlans.filter((plan) => {
    const operation = view.plan.operations.find((o) => o.id === plan.operations[0]);
    if (!operation || heatOf(view, plan)) return false;
    return operationState(view, operation, isReleased(view)).progress === 'ready';
  });

/**
 * Starts a heat: from this instant its rounds fall due.
 * @param first the first heat of the casting is offered also while its operation should wait
 */
export function StartHeat({ view, first }: { view: View; first?: boolean }) {
  const [asked, ask] = useState<HeatPlan | null>(null);
  const ready = heatsToStart(view);
  const plans = ready.length === 0 && first ? view.plan.heatPlans.slice(0, 1) : ready;
  if (plans.length === 0) return null;
  return (
    <>
      {plans.map((plan) => (
        <Sheet key={plan.id} graduated={first} title={plan.name} beside={`operation ${plan.operations[0]}`}>
          <div class="pad stack-small">
            <p>
              Heat {plan.id}: {plan.segments.length} segments, {segmentEnds(plan).at(-1)!.toFixed(1)} h,{' '}
              {dueRounds(plan).length} rounds. It begins {segmentWords(plan, 1)}.
            </p>
            {ready.length === 0 && (
              <p class="small">
                Operation {plan.operations[0]} should wait for what comes before it; its page says for what. A heat that
                is started now is kept and flagged.
              </p>
            )}
            <button
              type="button"
              class={`button wide ${first && ready.length > 0 ? 'main' : ''}`}
              onClick={() => ask(plan)}
            >
              Start the heat
            </button>
          </div>
        </Sheet>
      ))}
      {asked && <StartForm view={view} plan={asked} onClose={() => ask(null)} />}
    </>
  );
}

function StartForm({ view, plan, onClose }: { view: View; plan: HeatPlan; onClose: () => void }) {
  const { timeZone } = view.genesis;
  const [earlier, setEarlier] = useState<TypedMoment | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const saving = useSaving();
  const operation = plan.operations[0]!;
  const start = async () => {
    const observed = earlier && readObserved(earlier.date, earlier.time, timeZone, new Date());
    if (observed && 'fault' in observed) return setFault(observed.fault);
    const done = await saving.run(async () => {
      if (!(await someone())) return false;
      await startHeat(operation, plan.id, observed ? isoWithOffset(observed.at) : undefined);
      return true;
    });
    if (done) onClose();
  };
  return (
    <Overlay title={`Start heat ${plan.id}`} onClose={onClose}>
      <p>
        The heat begins {earlier ? 'at the time below' : `now, ${clockTime(now.value, timeZone)}`}. Its rounds fall due
        from then on, and the planned temperature counts from {plan.start_C} °C. Operation {operation} is under way with
        it.
      </p>
      <PastMoment
        label="It was started earlier"
        which="of the start"
        timeZone={timeZone}
        moment={earlier}
        onMoment={(moment) => {
          setFault(null);
          setEarlier(moment);
        }}
      />
      {(fault ?? saving.problem) && (
        <p class="field-error" role="alert">
          {fault ?? saving.problem}
        </p>
      )}
      <button type="button" class="button main wide" onClick={() => void start()}>
        {saving.busy ? 'Saving' : 'The heat begins'}
      </button>
    </Overlay>
  );
}
