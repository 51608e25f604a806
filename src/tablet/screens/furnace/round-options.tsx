import { Overlay } from '../../parts/overlay.tsx';
import { PaperWords, PastMoment } from '../../shared-screens/past-moment.tsx';
import { WhoReads } from '../../shared-screens/who-reads.tsx';
import type { Round } from './use-round.ts';

/** What holds for the whole round: who reads, paper, and words about it. */
export function RoundOptions({ round, onClose }: { round: Round; onClose: () => void }) {
  const { draft, change, view, observed } = round;
  return (
    <Overlay title="For this round" closeLabel="Done" onClose={onClose}>
      <WhoReads
        view={view}
        legend="Who reads"
        observer={draft.observer}
        onObserver={(observer) => change({ observer })}
      />
      <PastMoment
        label="Typed from paper"
        which="on the paper"
        timeZone={view.genesis.timeZone}
        moment={draft.paper}
        onMoment={(paper) => change({ paper })}
      >
        <PaperWords observed={observed} />
      </PastMoment>
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
