import type { AlarmFound } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { WorkingTable } from '../../parts/working-table.tsx';
import { CalculationWorking } from '../../shared-screens/calculation-working.tsx';

/** More digits than anyone can check by hand, and no noise of binary fractions. */
const DIGITS = 9;

/** How an alarm follows from what was read: the threshold with its source, and the calculation behind the figure. */
export function AlarmWorking({ view, name, alarm }: { view: View; name: string; alarm: AlarmFound }) {
  const planned = view.plan.alarms.find((a) => a.id === alarm.id);
  const lines = alarm.lines.map((line) => ({
    ...line,
    value: typeof line.value === 'number' ? Number(line.value.toPrecision(DIGITS)) : (line.value ?? '–'),
  }));
  return (
    <details class="alarm-working">
      <summary>How it was worked out</summary>
      {planned && (
        <p>
          {planned.text} <span class="note">Thresholds: {planned.source ?? 'plan'}. At its worst it was:</span>
        </p>
      )}
      {lines.length > 0 && <WorkingTable caption={`Working of ${name}`} lines={lines} />}
      {alarm.worked && <CalculationWorking {...alarm.worked} name={name} />}
    </details>
  );
}
