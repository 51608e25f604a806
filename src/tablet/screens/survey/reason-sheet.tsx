import type { Plan } from '../../../../shared/plan/schema.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import type { PassDraft } from './pass-draft.ts';

/** Ready where the plan does not list it. */
const READY = 'mistyped';

/** Why an entry is struck. The reasons come from the plan; what is no reason is said. */
export function ReasonSheet(props: {
  title: string;
  plan: Plan;
  draft: PassDraft;
  change: (change: Partial<PassDraft>) => void;
  doLabel: string;
  onDo: () => void;
  error: string | null;
  onClose: () => void;
}) {
  const { title, plan, draft, change, doLabel, onDo, error, onClose } = props;
  const reasons = [...new Set([READY, ...plan.strikeReasons])];
  return (
    <Overlay title={title} onClose={onClose}>
      <div class="reason-sheet">
        <p class="small">
          A struck entry stays readable, with its reason. Not a reason: {plan.notStrikeReasons.join(', ')}.
        </p>
        <ChoiceList
          legend="Reason"
          choices={reasons.map((reason) => ({ value: reason, label: reason }))}
          value={draft.reason}
          onChoice={(reason) => change({ reason })}
        />
        <label class="labelled">
          <span>In your own words, if that says more</span>
          <input
            class="input"
            value={draft.reasonWords}
            maxLength={400}
            onInput={(event) => change({ reasonWords: event.currentTarget.value })}
          />
        </label>
        {error && (
          <p class="error small" role="alert">
            {error}
          </p>
        )}
        <button type="button" class="button main wide" onClick={onDo}>
          {doLabel}
        </button>
      </div>
    </Overlay>
  );
}
