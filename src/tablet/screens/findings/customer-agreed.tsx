import type { Agreement } from '../../../../shared/logbook/state/concession.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import type { DecisionDraft } from './decision.ts';

interface Props {
  readonly view: View;
  readonly value: DecisionDraft;
  readonly today: string;
  readonly change: (part: Partial<DecisionDraft>) => void;
}

const WAYS: { value: Agreement['how']; label: string; detail: string }[] = [
  { value: 'letter', label: 'by letter', detail: 'paper or mail; it is kept' },
  { value: 'call', label: 'by call', detail: 'a note of the call is kept' },
  { value: 'present', label: 'present', detail: 'said it here, having seen it' },
];

/** Who of the customer agreed to a concession, how, on what date, and by which paper. */
export function CustomerAgreed({ view, value, today, change }: Props) {
  const known = view.standing.people().filter((p) => !p.retired && p.roles.includes('customer'));
  return (
    <fieldset class="finding-customer">
      <legend>The customer’s agreement: without it the concession clears nothing</legend>
      <label class="labelled">
        <span>Who of the customer agreed</span>
        <input
          class="input"
          maxLength={200}
          value={value.customer}
          onInput={(e) => change({ customer: e.currentTarget.value })}
        />
      </label>
      {known
        .filter((p) => p.name !== value.customer)
        .map((p) => (
          <button key={p.id} type="button" class="button" onClick={() => change({ customer: p.name })}>
            {p.name}, customer
          </button>
        ))}
      <ChoiceList
        legend="How"
        choices={WAYS}
        value={value.how === '' ? null : value.how}
        onChoice={(how) => change({ how })}
      />
      <div class="finding-when">
        <label class="labelled">
          <span>On what date</span>
          <input
            class="input"
            type="date"
            max={today}
            value={value.on}
            onInput={(e) => change({ on: e.currentTarget.value })}
          />
        </label>
        <label class="labelled">
          <span>{value.how === 'present' ? 'Reference (optional)' : 'Reference of the letter or the note'}</span>
          <input
            class="input"
            maxLength={200}
            value={value.reference}
            onInput={(e) => change({ reference: e.currentTarget.value })}
          />
        </label>
      </div>
    </fieldset>
  );
}
