import { useState } from 'preact/hooks';
import { type Finding, findings } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { operationById } from '../../../../shared/plan/lookup.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { Filter } from '../../parts/filter.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { byGravity } from '../../shared-screens/finding-gravity.ts';
import { FindingLink } from '../../shared-screens/finding-link.tsx';
import { ownerWords } from '../../shared-screens/owner-words.ts';
import './findings.css';

type Shown = 'open' | 'all';

const FILTERS = [
  { value: 'open', label: 'Not closed' },
  { value: 'all', label: 'All' },
] as const;

/** Every finding, worked out or raised by hand; those that want a decision first. */
export function Findings() {
  const v = view.value;
  const [shown, show] = useState<Shown>('open');
  const [operation, choose] = useState('');
  if (!v) return null;
  const all = findings(v);
  const some = all
    .filter((f) => operation === '' || f.operation === operation)
    .filter((f) => shown === 'all' || f.state !== 'closed');
  const groups = GROUPS.map((group) => ({
    ...group,
    found: some.filter((f) => f.state === group.state).sort(byGravity),
  }));
  return (
    <Screen
      place="now"
      name="Findings"
      detail={`${all.filter((f) => f.state === 'open').length} open of ${all.length}`}
    >
      <div class="findings-head">
        <Filter legend="Which findings" choices={FILTERS} value={shown} onChoice={show} />
        <OperationChoice view={v} all={all} value={operation} choose={choose} />
      </div>
      {some.length === 0 && (
        <div class="sheet empty">
          <p>
            {all.length === 0
              ? 'No finding so far. What lies outside its limits, is late or out of sequence will stand here by itself.'
              : 'No finding of this kind.'}
          </p>
          {all.length > 0 && shown === 'open' && (
            <button type="button" class="button" onClick={() => show('all')}>
              Show all
            </button>
          )}
        </div>
      )}
      {groups
        .filter((group) => group.found.length > 0)
        .map(({ state, title, found }) => (
          <Sheet key={state} title={title} aside={found.length}>
            <ul class="rows">
              {found.map((finding) => (
                <li key={finding.id}>
                  <FindingLink finding={finding} owner={ownerWords(v, finding)} />
                </li>
              ))}
            </ul>
          </Sheet>
        ))}
    </Screen>
  );
}

const GROUPS = [
  { state: 'open', title: 'Waits for a decision' },
  { state: 'in work', title: 'In work' },
  { state: 'accepted', title: 'Accepted' },
  { state: 'closed', title: 'Closed' },
] as const;

type ChoiceProps = { view: View; all: readonly Finding[]; value: string; choose: (operation: string) => void };

function OperationChoice({ view: v, all, value, choose }: ChoiceProps) {
  const ids = v.plan.operations.map((o) => o.id).filter((id) => all.some((f) => f.operation === id));
  if (ids.length < 2) return null;
  return (
    <label class="findings-operation">
      <span class="hidden-text">Operation</span>
      <select class="input" value={value} onChange={(event) => choose(event.currentTarget.value)}>
        <option value="">every operation</option>
        {ids.map((id) => (
          <option key={id} value={id}>
            {id} {operationById(v.plan, id)?.name}
          </option>
        ))}
      </select>
    </label>
  );
}
