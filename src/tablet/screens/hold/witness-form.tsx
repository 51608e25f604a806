import { useState } from 'preact/hooks';
import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { actWords, notice, type WitnessAct, witnessActs } from '../../../../shared/logbook/state/witness-acts.ts';
import type { Witness } from '../../../../shared/plan/schema.ts';
import { witnessed } from '../../acts/holds.ts';
import { readObserved } from '../../app/observed-at.ts';
import { dayAndTime, isoWithOffset } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { PastMoment, type TypedMoment } from '../../shared-screens/past-moment.tsx';

type Act = Body<'witness'>['act'];

interface WitnessDraft {
  readonly chosen: Act;
  readonly words: string;
  /** When it happened; null for now. */
  readonly moment: TypedMoment | null;
}

const empty: WitnessDraft = { chosen: 'told', words: '', moment: null };

const earlier: { readonly [A in Act]: { readonly label: string; readonly which: string } } = {
  told: { label: 'The witness was told earlier than now', which: 'of the telling' },
  attended: { label: 'The witness was there earlier than now', which: 'of the attendance' },
  waived: { label: 'It was waived earlier than now', which: 'of the waiver' },
};

/** Records that a witness was told, attended, or did not come within the notice. */
export function WitnessForm({ view, id, onClose }: { view: View; id: string; onClose: () => void }) {
  const witness = view.plan.witnesses.find((w) => w.id === id)!;
  const draft = useDraft(`witness/${id}`, empty);
  const { chosen, words, moment = null } = draft.value;
  const [fault, setFault] = useState<string | null>(null);
  const { timeZone } = view.genesis;
  const change = (part: Partial<WitnessDraft>) => {
    setFault(null);
    draft.change(part);
  };
  const save = async () => {
    const observed = moment && readObserved(moment.date, moment.time, timeZone, new Date());
    if (observed && 'fault' in observed) return setFault(observed.fault);
    const when = observed ? { observedAt: isoWithOffset(observed.at) } : {};
    if (!(await wasKept(witnessed(id, chosen, words.trim(), when)))) return;
    void draft.clear();
    onClose();
  };
  return (
    <Overlay title={`Witness point ${id}, ${witness.name}`} onClose={onClose} closeLabel="Cancel">
      <p class="small">
        To be told ahead: {witness.toldAhead}. May attend: {witness.mayAttend}. If absent: {witness.ifAbsent}
      </p>
      <p class="small" role="status">
        {noticeWords(view, witness)}
      </p>
      <ActsSoFar view={view} witness={witness} />
      <ChoiceList
        legend="What happened"
        choices={[
          { value: 'told', label: 'told', detail: 'the witness has been told of the time' },
          { value: 'attended', label: 'attended', detail: 'the witness was there' },
          { value: 'waived', label: 'waived', detail: 'told, and not there when the notice had run out' },
        ]}
        value={chosen}
        onChoice={(chosen) => change({ chosen })}
      />
      <PastMoment {...earlier[chosen]} timeZone={timeZone} moment={moment} onMoment={(moment) => change({ moment })}>
        <p class="small past-words">Both times are kept: when it was, and now. The notice counts from when it was.</p>
      </PastMoment>
      <label class="labelled">
        <span>Who and how (optional)</span>
        <textarea
          class="input"
          maxLength={2000}
          value={words}
          onInput={(e) => change({ words: e.currentTarget.value })}
        />
      </label>
      <p class="field-error" role="alert">
        {fault}
      </p>
      <div class="buttons">
        <button type="button" class="button main" onClick={() => void save()}>
          Record it
        </button>
      </div>
    </Overlay>
  );
}

/** What was recorded of it, each with the time that it was and, where that is another, the time it was written. */
function ActsSoFar({ view, witness }: { view: View; witness: Witness }) {
  const acts = witnessActs(view, witness);
  if (acts.length === 0) return null;
  return (
    <ul class="rows" aria-label="Recorded so far">
      {acts.map((act) => (
        <li key={act.kept.hash}>
          <a class="row" href={`/record/${act.kept.hash}`}>
            <span class="grow small">
              <b>{actWords(act, witness)}</b> {timesOf(view, act)}
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}

function timesOf(view: View, { kept: { entry } }: WitnessAct): string {
  const { dayOne, timeZone } = view.genesis;
  const was = dayAndTime(entry.observedAt, dayOne, timeZone);
  const wrote = dayAndTime(entry.recordedAt, dayOne, timeZone);
  const by = view.standing.person(entry.by)?.name ?? 'somebody not admitted';
  return was === wrote ? `${was}, ${by}` : `${was}, written ${wrote}, ${by}`;
}

/** Until when the notice runs, and what that means for a waiver. */
function noticeWords(view: View, witness: Witness): string {
  const { ends_ms, lacks } = notice(view, witness);
  if (lacks === 'second')
    return `The witness has been told once. The plan wants a second notice, ${witness.secondNotice_h} h ahead: told again at least ${witness.secondNotice_h} h after the first time. A waiver counts only after both have run out.`;
  if (ends_ms === null) return 'The witness has not been told yet. A waiver counts only after the notice has run out.';
  const { dayOne, timeZone } = view.genesis;
  return `The notice runs out ${dayAndTime(new Date(ends_ms), dayOne, timeZone)}. A waiver before that is kept and does not count.`;
}
