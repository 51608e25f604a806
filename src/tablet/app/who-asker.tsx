import type { Person } from '../../../shared/logbook/standing.ts';
import { ChoiceList } from '../parts/choice-list.tsx';
import { Overlay } from '../parts/overlay.tsx';
import { choosePerson, people, person } from './session.ts';
import { rolesOf, whoAsked } from './who.ts';

function end(who: Person | null): void {
  whoAsked.value?.(who);
  whoAsked.value = null;
}

/** Stands once in the app, over whatever screen asks. */
export function WhoAsker() {
  if (!whoAsked.value) return null;
  return (
    <Overlay title="Who works with the tablet?" onClose={() => end(null)}>
      <ChoiceList
        legend="People of this casting"
        legendHidden
        choices={people().map((p) => ({ value: p.id, label: p.name, detail: rolesOf(p) }))}
        value={person.value?.id ?? null}
        onChoice={(id) => void choosePerson(id).then(() => end(person.value))}
      />
    </Overlay>
  );
}
