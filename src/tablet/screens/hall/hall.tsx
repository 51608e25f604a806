import { hallOf } from '../../../../shared/logbook/state/hall.ts';
import { HallCard } from '../../app/hall-card.tsx';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import './hall.css';

/** The hall's emergency numbers as a page: one sheet of A4, to hang beside the telephone. */
export function HallScreen() {
  const v = view.value;
  if (!v) return null;
  const hall = hallOf(v);
  const { dayOne, timeZone } = v.genesis;
  const by = hall && (v.standing.person(hall.by)?.name ?? 'somebody not admitted');
  return (
    <Screen place="setup" name="Emergency" detail="numbers of the hall" work="hall">
      <Sheet title="Emergency numbers" class="hall-page">
        <div class="pad">
          <HallCard hall={hall} />
          {hall && (
            <p class="small dim hall-entered">
              Entered by {by}, {dayAndTime(hall.writtenAt, dayOne, timeZone)}
            </p>
          )}
        </div>
      </Sheet>
      <div class="buttons no-print">
        <a class="button" href="/setup?part=hall">
          Change the numbers
        </a>
        {hall && (
          <button type="button" class="button main" onClick={() => window.print()}>
            Print the page
          </button>
        )}
      </div>
    </Screen>
  );
}
