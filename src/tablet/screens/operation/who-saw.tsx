import type { View } from '../../../../shared/logbook/state/view.ts';
import { person } from '../../app/session.ts';
import type { SheetDraft } from './sheet-draft.ts';
import { DATE_ID } from './use-answers.ts';

interface Props {
  readonly view: View;
  readonly draft: SheetDraft;
  readonly change: (part: Partial<SheetDraft>) => void;
  readonly fault: string | null;
}

/** Who saw what is written down, and when: the person at the tablet and now, unless it says otherwise. */
export function WhoSaw({ view, draft, change, fault }: Props) {
  const people = view.standing.people().filter((p) => !p.retired);
  const at = person.value;
  const observer = draft.observer || at?.id || '';
  const name = people.find((p) => p.id === observer)?.name ?? 'the person at the tablet';
  return (
    <details class="fold" open={draft.paper || fault !== null}>
      <summary>
        <span>
          Seen by <b>{name}</b>, {draft.paper ? 'typed from paper' : 'now'}
        </span>
      </summary>
      <div class="operation-seen">
        <label class="labelled">
          <span>Seen by</span>
          <select class="input" value={observer} onChange={(event) => change({ observer: event.currentTarget.value })}>
            {people.map((p) => (
              <option key={p.id} value={p.id}>
                {p.name}
              </option>
            ))}
          </select>
        </label>
        <label class="operation-paper">
          <input
            type="checkbox"
            checked={draft.paper}
            onChange={(event) => change({ paper: event.currentTarget.checked })}
          />
          Typed from paper
        </label>
        {draft.paper && <ObservedAt draft={draft} change={change} zone={view.genesis.timeZone} fault={fault} />}
      </div>
    </details>
  );
}

function ObservedAt({ draft, change, zone, fault }: Pick<Props, 'draft' | 'change' | 'fault'> & { zone: string }) {
  return (
    <>
      <label class="labelled">
        <span>Date on the paper</span>
        <input
          id={DATE_ID}
          type="date"
          class="input"
          value={draft.date}
          aria-describedby={fault ? 'seen-fault' : undefined}
          onInput={(event) => change({ date: event.currentTarget.value })}
        />
      </label>
      <label class="labelled">
        <span>Time on the paper, {zone}</span>
        <input
          type="time"
          class="input"
          value={draft.time}
          aria-describedby={fault ? 'seen-fault' : undefined}
          onInput={(event) => change({ time: event.currentTarget.value })}
        />
      </label>
      {fault && (
        <p id="seen-fault" class="operation-asked" role="alert">
          {fault} Nothing was saved; what you filled in stays.
        </p>
      )}
    </>
  );
}
