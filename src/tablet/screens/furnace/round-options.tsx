import { isLate } from '../../app/observed-at.ts';
import { person } from '../../app/session.ts';
import { dateIn, isoWithOffset } from '../../app/time.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import type { Round } from './use-round.ts';

/** What holds for the whole round: who reads, paper, and words about it. */
export function RoundOptions({ round, onClose }: { round: Round; onClose: () => void }) {
  const { draft, change, view, observed } = round;
  const { timeZone } = view.genesis;
  const { paper } = draft;
  const people = view.standing.people().filter((p) => !p.retired);
  const self = person.value?.id ?? '';
  const late = observed && 'at' in observed && isLate(isoWithOffset(observed.at), isoWithOffset());
  return (
    <Overlay title="For this round" closeLabel="Done" onClose={onClose}>
      <ChoiceList
        legend="Who reads"
        value={draft.observer ?? self}
        onChoice={(id) => change({ observer: id === self ? null : id })}
        choices={people.map((p) => ({
          value: p.id,
          label: p.name,
          detail: p.id === self ? 'works with the tablet and types' : 'reads; you type',
        }))}
      />
      <label class="row choice">
        <input
          type="checkbox"
          class="paper-switch"
          checked={paper !== null}
          onChange={(e) =>
            change({ paper: e.currentTarget.checked ? { date: dateIn(new Date(), timeZone), time: '' } : null })
          }
        />
        <span class="grow">Typed from paper</span>
      </label>
      {paper && (
        <div class="paper-times">
          <label class="labelled">
            <span>Date on the paper</span>
            <input
              class="input"
              type="date"
              value={paper.date}
              onInput={(e) => change({ paper: { ...paper, date: e.currentTarget.value } })}
            />
          </label>
          <label class="labelled">
            <span>Time on the paper</span>
            <input
              class="input"
              type="time"
              value={paper.time}
              onInput={(e) => change({ paper: { ...paper, time: e.currentTarget.value } })}
            />
          </label>
          <p class="small paper-words" role="status">
            {observed && 'fault' in observed ? (
              <span class="field-error">{observed.fault}</span>
            ) : late ? (
              <span class="not-proven">More than four hours ago: it is kept, and marked late.</span>
            ) : (
              'Both times are kept: that of the paper, and now.'
            )}
          </p>
        </div>
      )}
      <label class="labelled">
        <span>What was seen, heard or smelt on the way</span>
        <textarea
          class="input"
          value={draft.words}
          maxLength={1000}
          onInput={(e) => change({ words: e.currentTarget.value })}
        />
      </label>
    </Overlay>
  );
}
