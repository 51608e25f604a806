import { useState } from 'preact/hooks';
import { findings } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { someone } from '../../app/who.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { FindingLink } from '../../shared-screens/finding-link.tsx';
import { ownerWords } from '../../shared-screens/owner-words.ts';
import { RaiseFinding } from './raise-finding.tsx';

/** The findings of an operation, and the way to raise one. */
export function FindingsHere({ view, operation }: { view: View; operation: Operation }) {
  const [raising, raise] = useState(false);
  const here = findings(view).filter((f) => f.operation === operation.id);
  const open = here.filter((f) => f.state === 'open').length;
  return (
    <Sheet title="Findings" aside={here.length === 0 ? 'none' : `${open} open of ${here.length}`}>
      <ul class="rows">
        {here.map((finding) => (
          <li key={finding.id}>
            <FindingLink finding={finding} owner={ownerWords(view, finding)} />
          </li>
        ))}
        <li>
          <button type="button" class="button wide" onClick={() => void someone().then((who) => raise(who !== null))}>
            Raise a finding
          </button>
        </li>
      </ul>
      {raising && <RaiseFinding view={view} operation={operation} onClose={() => raise(false)} />}
    </Sheet>
  );
}
