import { askWho } from '../../app/who.ts';
import { Sheet } from '../../parts/sheet.tsx';

/** Before anything is recorded, the tablet must know by whom. */
export function WhoFirst() {
  return (
    <Sheet graduated label="Who works with the tablet?" class="now-next">
      <div class="now-words">
        <h2>Who works with the tablet?</h2>
        <p>Every entry carries a name. Nobody has been chosen yet.</p>
      </div>
      <button type="button" class="button main wide" onClick={() => void askWho()}>
        Choose a person
      </button>
    </Sheet>
  );
}
