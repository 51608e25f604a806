import type { Hall } from '../../../shared/logbook/state/hall.ts';
import { Sign } from '../parts/icons.tsx';
import './hall-card.css';

/** The hall's emergency numbers, large; or that nobody has entered them. */
export function HallCard({ hall }: { hall: Hall | null }) {
  return (
    <div class="hall-card">
      {hall ? <Numbers hall={hall} /> : <NoNumbers />}
      <p class="hall-caution small">
        <Sign sign="warning" />
        <span>
          The hall's own emergency plan and local rules decide whom to call and what to do first. People come before the
          blank.
        </span>
      </p>
    </div>
  );
}

function Numbers({ hall }: { hall: Hall }) {
  return (
    <>
      <p class="hall-site">{hall.site}</p>
      {hall.disagree && (
        <p role="note">
          Two tablets were written to without knowing of each other. Everything that was entered stands here; a keeper
          enters it once more.
        </p>
      )}
      <dl class="hall-numbers">
        {hall.numbers.map(({ what, number }) => (
          <div key={`${what} ${number}`}>
            <dt>{what}</dt>
            <dd class="n">{number}</dd>
          </div>
        ))}
      </dl>
      {hall.assembly && (
        <p class="hall-assembly">
          <span class="small dim">Assembly point</span>
          <b>{hall.assembly}</b>
        </p>
      )}
      {hall.words && <p class="hall-words">{hall.words}</p>}
    </>
  );
}

function NoNumbers() {
  return (
    <div class="empty">
      <p>No numbers entered. A keeper enters them in Setup.</p>
      <a class="button" href="/setup?part=hall">
        Open Setup
      </a>
    </div>
  );
}
