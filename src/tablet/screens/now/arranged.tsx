import { arrangementStatus, openArrangements } from '../../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { now } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { arrangedFor, endWords, statusWords } from '../../shared-screens/arrangement-words.ts';

const SHOWN = 3;

/** What is otherwise than planned for now; louder where its end is past. */
export function Arranged({ view }: { view: View }) {
  const open = openArrangements(view);
  if (open.length === 0) return null;
  return (
    <Sheet title="Arranged for a time" aside={`${open.length} open`}>
      <ul class="rows">
        {open.slice(0, SHOWN).map((a) => {
          const status = arrangementStatus(a, now.value.getTime());
          const { body } = a.line;
          return (
            <li key={a.id}>
              <a class="row" href={`/arrangements/${a.id}`}>
                <span class="grow">
                  <b>{body.what}</b>
                  <span class="second small dim">
                    {arrangedFor(body)}, {endWords(view, body)}
                  </span>
                </span>
                <span class={`small ${status === 'overdue' ? 'now-overdue' : ''}`}>{statusWords(status)}</span>
              </a>
            </li>
          );
        })}
        {open.length > SHOWN && (
          <li>
            <a class="row" href="/arrangements">
              All {open.length} arrangements
            </a>
          </li>
        )}
      </ul>
    </Sheet>
  );
}
