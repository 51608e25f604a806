import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { Problem } from '../../app/problem.tsx';
import { loadPerson } from '../../app/session.ts';
import { castings, openCasting, openStore } from '../../app/tablet.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { inGroups } from '../../shared-screens/fields/fingerprint.tsx';

/** The castings on this tablet: one is open at a time, and they never mix. */
export function Castings() {
  const { route } = useLocation();
  const failure = useSignal<string | null>(null);
  const current = openStore().db.casting;
  const open = async (id: string) => {
    try {
      await openCasting(id);
      await loadPerson();
      route('/');
    } catch (error) {
      failure.value = error instanceof Error ? error.message : String(error);
    }
  };
  return (
    <>
      <Sheet title="Another casting" graduated class="setup-side">
        <div class="pad setup-panel">
          <p>
            Each casting has a log, a crew and keys of its own on this tablet. Opening another closes nothing that is
            typed: it waits where it is.
          </p>
          <a class="button main" href="/start">
            Start another, or practise
          </a>
        </div>
      </Sheet>
      <Sheet title="Castings on this tablet" aside={`${castings.value.length}`} class="setup-list">
        {failure.value && (
          <Problem
            title="That casting did not open"
            words={failure.value}
            safe="Its entries stay where they are, and this casting is still open."
          />
        )}
        <ul class="rows">
          {castings.value.map(({ id, name, practice }) => {
            const shown = (
              <span class="grow">
                <b>{name}</b> {practice && <span class="practice">Practice</span>}
                <span class="second note n">{inGroups(id).slice(0, 2).join(' ')} …</span>
              </span>
            );
            return (
              <li key={id}>
                {id === current ? (
                  <span class="row" aria-current="true">
                    {shown}
                    <span class="tag">open</span>
                  </span>
                ) : (
                  <button type="button" class="row" onClick={() => void open(id)}>
                    {shown}
                    <span class="small">Open it</span>
                  </button>
                )}
              </li>
            );
          })}
        </ul>
      </Sheet>
    </>
  );
}
