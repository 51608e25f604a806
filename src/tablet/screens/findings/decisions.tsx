import type { Finding } from '../../../../shared/logbook/state/findings.ts';
import { live } from '../../../../shared/logbook/state/strikes.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import { roleName } from '../../app/words.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { SaidBy } from '../../shared-screens/said-by.tsx';

/** What was decided so far, and by whom it was closed. */
export function Decisions({ view, finding }: { view: View; finding: Finding }) {
  const closures = live(view, `disposition/${finding.operation}`, 'closure').filter(
    (c) => c.body.finding === finding.id,
  );
  if (finding.dispositions.length + closures.length === 0) return null;
  const name = (id: string) => view.standing.person(id)?.name ?? 'somebody not admitted';
  return (
    <Sheet title="Decided so far">
      <ul class="rows">
        {finding.dispositions.map((d) => (
          <li key={d.hash}>
            <a class="row" href={`/record/${d.hash}`}>
              <span class="grow">
                <b>{d.body.decision}</b>: {d.body.words}
                {d.body.limits && <span class="second">Limits: {d.body.limits}</span>}
                {d.body.agreedBy && <span class="second">Agreed by {d.body.agreedBy}</span>}
                <span class="second small dim">
                  proposed by {name(d.body.proposedBy)}; accepted and signed as {roleName(d.body.role)}
                </span>
                <SaidBy view={view} kept={anyKind(d)} />
              </span>
            </a>
          </li>
        ))}
        {closures.map((c) => (
          <li key={c.hash}>
            <a class="row" href={`/record/${c.hash}`}>
              <span class="grow">
                <b>closed</b>: {c.body.words}
                <SaidBy view={view} kept={anyKind(c)} />
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
