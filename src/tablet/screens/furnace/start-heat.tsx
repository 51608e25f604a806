import { useState } from 'preact/hooks';
import { segmentEnds, segmentWords } from '../../../../shared/logbook/state/heat.ts';
import { isReleased } from '../../../../shared/logbook/state/holds.ts';
import { dueRounds, heatOf } from '../../../../shared/logbook/state/rounds.ts';
import { operationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { HeatPlan } from '../../../../shared/plan/schema.ts';
import { startHeat } from '../../acts/rounds.ts';
import { readObserved } from '../../app/observed-at.ts';
import { clockTime, dateIn, isoWithOffset, now } from '../../app/time.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { Sheet } from '../../parts/sheet.tsx';

/** Heats that nobody has started and whose operation could be worked on. */
export const heatsToStart = (view: View): HeatPlan[] =>
  view.plan.heatPlans.filter((plan) => {
    const operation = view.plan.operations.find((o) => o.id === plan.operations[0]);
    if (!operation || heatOf(view, plan)) return false;
    return operationState(view, operation, isReleased(view)).progress === 'ready';
  });

/** Starts a heat: from this instant its rounds fall due. */
export function StartHeat({ view, graduated }: { view: View; graduated?: boolean }) {
  const [asked, ask] = useState<HeatPlan | null>(null);
  const plans = heatsToStart(view);
  if (plans.length === 0) return null;
  return (
    <>
      {plans.map((plan) => (
        <Sheet key={plan.id} graduated={graduated} title={plan.name} beside={`operation ${plan.operations[0]}`}>
          <div class="pad stack-small">
            <p>
              Heat {plan.id}: {plan.segments.length} segments, {segmentEnds(plan).at(-1)!.toFixed(1)} h,{' '}
              {dueRounds(plan).length} rounds. It begins {segmentWords(plan, 1)}.
            </p>
            <button type="button" class={`button wide ${graduated ? 'main' : ''}`} onClick={() => ask(plan)}>
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
  const [earlier, setEarlier] = useState<{ date: string; time: string } | null>(null);
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
      <label class="row choice">
        <input
          type="checkbox"
          class="paper-switch"
          checked={earlier !== null}
          onChange={(e) => {
            setFault(null);
            setEarlier(e.currentTarget.checked ? { date: dateIn(new Date(), timeZone), time: '' } : null);
          }}
        />
        <span class="grow">It was started earlier</span>
      </label>
      {earlier && (
        <div class="paper-times">
          <label class="labelled">
            <span>Date of the start</span>
            <input
              class="input"
              type="date"
              value={earlier.date}
              onInput={(e) => setEarlier({ ...earlier, date: e.currentTarget.value })}
            />
          </label>
          <label class="labelled">
            <span>Time of the start</span>
            <input
              class="input"
              type="time"
              value={earlier.time}
              onInput={(e) => setEarlier({ ...earlier, time: e.currentTarget.value })}
            />
          </label>
        </div>
      )}
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
