import { agreementWords } from '../../../../shared/logbook/state/concession.ts';
import type { Finding } from '../../../../shared/logbook/state/findings.ts';
import { byTime } from '../../../../shared/logbook/state/readings.ts';
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
  const decided = [...finding.dispositions.map((disposition) => ({ disposition, why: null })), ...finding.lacking].sort(
    (a, b) => byTime(a.disposition, b.disposition),
  );
  if (decided.length + closures.length === 0) return null;
  const name = (id: string) => view.standing.person(id)?.name ?? 'somebody not admitted';
  return (
    <Sheet title="Decided so far">
      <ul class="rows">
        {decided.map(({ disposition: d, why }) => (
          <li key={d.hash}>
            <a class="row" href={`/record/${d.hash}`}>
              <span class="grow">
                <b>{d.body.decision}</b>: {d.body.words}
                {d.body.limits && <span class="second">Limits: {d.body.limits}</span>}
                {d.body.customer ? (
                  <span class="second">Agreed by {agreementWords(d.body.customer)}</span>
                ) : (
                  d.body.agreedBy && <span class="second">Agreed by {d.body.agreedBy}</span>
                )}
                {why && <span class="finding-lacks">It clears nothing: {why}.</span>}
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
