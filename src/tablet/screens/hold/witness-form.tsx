import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { noticeEnds } from '../../../../shared/logbook/state/witness-acts.ts';
import type { Witness } from '../../../../shared/plan/schema.ts';
import { witnessed } from '../../acts/holds.ts';
import { dayAndTime } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';

type Act = Body<'witness'>['act'];

const empty: { chosen: Act; words: string } = { chosen: 'told', words: '' };

/** Records that a witness was told, attended, or did not come within the notice. */
export function WitnessForm({ view, id, onClose }: { view: View; id: string; onClose: () => void }) {
  const witness = view.plan.witnesses.find((w) => w.id === id)!;
  const draft = useDraft(`witness/${id}`, empty);
  const { chosen, words } = draft.value;
  const save = async () => {
    if (!(await wasKept(witnessed(id, chosen, words.trim())))) return;
    void draft.clear();
    onClose();
  };
  return (
    <Overlay title={`Witness point ${id}, ${witness.name}`} onClose={onClose} closeLabel="Cancel">
      <p class="small">
        To be told ahead: {witness.toldAhead}. May attend: {witness.mayAttend}. If absent: {witness.ifAbsent}.
      </p>
      <p class="small" role="status">
        {noticeWords(view, witness)}
      </p>
      <ChoiceList
        legend="What happened"
        choices={[
          { value: 'told', label: 'told', detail: 'the witness has been told of the time' },
          { value: 'attended', label: 'attended', detail: 'the witness was there' },
          { value: 'waived', label: 'waived', detail: 'told, and not there when the notice had run out' },
        ]}
        value={chosen}
        onChoice={(chosen) => draft.change({ chosen })}
      />
      <label class="labelled">
        <span>Who, how and when (optional)</span>
        <textarea
          class="input"
          maxLength={2000}
          value={words}
          onInput={(e) => draft.change({ words: e.currentTarget.value })}
        />
      </label>
      <div class="buttons">
        <button type="button" class="button main" onClick={() => void save()}>
          Record it
        </button>
      </div>
    </Overlay>
  );
}

/** Until when the notice runs, and what that means for a waiver. */
function noticeWords(view: View, witness: Witness): string {
  const ends = noticeEnds(view, witness);
  if (ends === null) return 'The witness has not been told yet. A waiver counts only after the notice has run out.';
  const { dayOne, timeZone } = view.genesis;
  return `The notice runs out ${dayAndTime(new Date(ends), dayOne, timeZone)}. A waiver before that is kept and does not count.`;
}
