import { ALARM_ADVICE } from '../../../shared/logbook/state/alarm-advice.ts';
import { type Finding, findings } from '../../../shared/logbook/state/findings.ts';
import type { Heat } from '../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { Sign } from '../parts/icons.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { byGravity } from './finding-gravity.ts';
import './finding-link.css';
import './alarm-sheet.css';

/** The alarms of the plan that held in the last round of a heat, or at the last level, and whom to call. */
export function AlarmSheet({ view, heat }: { view: View; heat: Heat }) {
  const standing = alarmsNow(view, heat);
  if (standing.length === 0) return null;
  return (
    <Sheet class="alarm-sheet" title="Alarms" aside={standing.length === 1 ? '1 stands' : `${standing.length} stand`}>
      <ul class="rows">
        {standing.map((finding) => (
          <li key={finding.id}>
            <AlarmRow finding={finding} />
          </li>
        ))}
      </ul>
      <p class="alarm-advice small">{ALARM_ADVICE}</p>
    </Sheet>
  );
}

function AlarmRow({ finding: { id, title, severity, state, alarm } }: { finding: Finding }) {
  const call = alarm?.call;
  return (
    <a class={`row ${severity === 'minor' ? '' : 'finding-grave'}`} href={`/findings/${id}`}>
      <Sign sign="warning" />
      <span class="grow">
        <b>{title}</b>
        <span class="second small">
          <b>{severity}</b>, {state}
          {call && `. Call ${call}`}.
        </span>
      </span>
    </a>
  );
}

const alarmsNow = (view: View, heat: Heat): Finding[] =>
  findings(view)
    .filter(({ alarm, state, operation }) => {
      const ofHeat = alarm && (alarm.heatPlan ?? heatOfOperation(view, operation)) === heat.plan.id;
      return ofHeat && alarm.stands && state !== 'closed';
    })
    .sort(byGravity);

/** An alarm at a level names no heat: its operation does. */
const heatOfOperation = (view: View, operation: string): string | undefined =>
  view.plan.heatPlans.find((p) => p.operations.includes(operation))?.id;
