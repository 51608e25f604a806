import { type Hall, hallOf } from '../../../../shared/logbook/state/hall.ts';
import { numbersShown } from '../../app/hall-numbers.ts';
import { nowShard } from '../../app/now-shard.ts';
import { view } from '../../app/tablet.ts';
import { Overlay } from '../../parts/overlay.tsx';
import './hall-numbers.css';

/** The hall's own emergency numbers, over whatever screen was open; on paper one page to pin up. */
export function HallNumbers() {
  const hall = view.value ? hallOf(view.value) : (nowShard.value?.hall ?? null);
  const close = () => {
    numbersShown.value = false;
  };
  return (
    <Overlay title="Emergency numbers" onClose={close}>
      <div class="hall-numbers">
        {hall ? <Numbers hall={hall} /> : <None onClose={close} />}
        <p class="small dim">
          This tablet calls nobody. The site's alarm plan, local rules and the people in charge of them decide what is
          done.
        </p>
        {hall && (
          <button type="button" class="button hall-print" onClick={() => window.print()}>
            Print this page
          </button>
        )}
      </div>
    </Overlay>
  );
}

function Numbers({ hall }: { hall: Hall }) {
  return (
    <>
      <p class="hall-site">{hall.site}</p>
      {hall.disagree && (
        <p class="hall-disagree" role="status">
          Two keepers entered numbers without knowing of each other. All of them stand here; a keeper sets it right in
          Setup.
        </p>
      )}
      <ul>
        {hall.numbers.map(({ what, number }) => (
          <li key={`${what} ${number}`}>
            <span>{what}</span>
            <a class="n" href={`tel:${number.replace(/[^\d+*#]/g, '')}`}>
              {number}
            </a>
          </li>
        ))}
      </ul>
      {hall.assembly && (
        <p>
          <b>Assembly point:</b> {hall.assembly}
        </p>
      )}
      {hall.words && <p>{hall.words}</p>}
    </>
  );
}

function None({ onClose }: { onClose: () => void }) {
  return (
    <p>
      No numbers are entered yet. A keeper of the roster enters them in{' '}
      <a href="/setup?part=hall" onClick={onClose}>
        Setup, The hall
      </a>
      . Until then: the board by the door.
    </p>
  );
}
