import { signal } from '@preact/signals';
import type { Person } from '../../../shared/logbook/standing.ts';
import { ChoiceList } from '../parts/choice-list.tsx';
import { Overlay } from '../parts/overlay.tsx';
import { choosePerson, person } from './session.ts';
import { openView } from './tablet.ts';
import { roleName } from './words.ts';

const asking = signal<((who: Person | null) => void) | null>(null);

/** Asks who works with the tablet. Null when nobody answers. */
export function askWho(): Promise<Person | null> {
  return new Promise((answer) => {
    asking.value = answer;
  });
}

/** The person at the tablet, asked for where nobody has said who they are. */
export const someone = async (): Promise<Person | null> => person.value ?? (await askWho());

export const rolesOf = (who: Person): string => who.roles.map(roleName).join(', ') || 'no role';

function end(who: Person | null): void {
  asking.value?.(who);
  asking.value = null;
}

/** Stands once in the app, over whatever screen asks. */
export function WhoAsker() {
  if (!asking.value) return null;
  const people = openView()
    .standing.people()
    .filter((p) => !p.retired);
  return (
    <Overlay title="Who works with the tablet?" onClose={() => end(null)}>
      <ChoiceList
        legend="People of this casting"
        legendHidden
        choices={people.map((p) => ({ value: p.id, label: p.name, detail: rolesOf(p) }))}
        value={person.value?.id ?? null}
        onChoice={(id) => void choosePerson(id).then(() => end(person.value))}
      />
    </Overlay>
  );
}
