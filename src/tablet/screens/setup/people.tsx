import { useSignal } from '@preact/signals';
import { person as atTablet } from '../../app/session.ts';
import { openView } from '../../app/tablet.ts';
import { rolesOf } from '../../app/who.ts';
import { roleName } from '../../app/words.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { AdmitForm } from './admit-form.tsx';
import { crewNeeded, crewWords } from './crew-needed.ts';
import { crew, isKeeper, KeepersOnly } from './keepers-only.tsx';
import { PersonForm } from './person-form.tsx';
import { Said } from './said.tsx';

type Panel = { readonly show: 'none'; readonly said?: string } | { readonly show: 'admit' } | { readonly show: string };

/** The roster: who is here with which roles, and who is still needed. */
export function People() {
  const panel = useSignal<Panel>({ show: 'none' });
  const people = crew();
  const chosen = people.find((p) => p.id === panel.value.show);
  const close = (said?: string) => {
    panel.value = said === undefined ? { show: 'none' } : { show: 'none', said };
  };
  return (
    <>
      <Sheet
        title={panel.value.show === 'admit' ? 'Admit a person' : (chosen?.name ?? 'The crew')}
        aside={chosen && rolesOf(chosen)}
        graduated
        class="setup-side"
      >
        {panel.value.show === 'admit' ? (
          <KeepersOnly what="admits people">
            <AdmitForm onDone={close} />
          </KeepersOnly>
        ) : chosen ? (
          <KeepersOnly what="changes roles and vouches for a new PIN">
            <PersonForm key={chosen.id} person={chosen} onDone={close} />
          </KeepersOnly>
        ) : (
          <Needed
            said={'said' in panel.value ? panel.value.said : undefined}
            onAdmit={() => {
              panel.value = { show: 'admit' };
            }}
          />
        )}
      </Sheet>
      <Sheet title="People" aside={`${people.length} admitted`} class="setup-list">
        <ul class="rows">
          {people.map((p) => (
            <li key={p.id}>
              <button
                type="button"
                class="row"
                aria-current={p.id === panel.value.show ? 'true' : undefined}
                onClick={() => {
                  panel.value = { show: p.id };
                }}
              >
                <span class="grow">
                  <b>{p.name}</b>
                  <span class="second small dim">{rolesOf(p)}</span>
                </span>
                {p.id === atTablet.value?.id && <span class="tag">at the tablet</span>}
              </button>
            </li>
          ))}
        </ul>
      </Sheet>
    </>
  );
}

/** One sentence on who is still needed, and the button that admits them. */
function Needed({ said, onAdmit }: { said: string | undefined; onAdmit: () => void }) {
  const { plan } = openView();
  const people = crew();
  const words = crewWords(crewNeeded(plan.holds, people), plan.holds.length, roleName);
  return (
    <div class="pad setup-panel">
      <Said words={said} />
      <p>{words ?? 'Every role that a hold point asks for is there, in different persons.'}</p>
      {words && (
        <p class="dim">
          Each hold point is signed by different persons, and one of them has taken none of its measurements.
        </p>
      )}
      {people.filter(isKeeper).length < 2 && (
        <p class="dim">
          Only one keeper of the roster: if that PIN is forgotten, nobody can admit anyone. Give a second person the
          role.
        </p>
      )}
      <button type="button" class="button main" onClick={onAdmit}>
        Admit a person
      </button>
    </div>
  );
}
