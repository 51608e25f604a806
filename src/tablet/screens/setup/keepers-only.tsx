import type { ComponentChildren } from 'preact';
import type { Person } from '../../../../shared/logbook/standing.ts';
import { person } from '../../app/session.ts';
import { openView } from '../../app/tablet.ts';
import { askWho, rolesOf } from '../../app/who.ts';

/** Everyone who is not retired, by name. */
export const crew = (): Person[] =>
  openView()
    .standing.people()
    .filter((p) => !p.retired)
    .sort((a, b) => a.name.localeCompare(b.name));

export const isKeeper = (who: Person | null): boolean => who?.roles.includes('keeper') ?? false;

/** Shows its children to a keeper of the roster; to others it says why not, and who can. */
export function KeepersOnly({ what, children }: { what: string; children: ComponentChildren }) {
  if (isKeeper(person.value)) return <>{children}</>;
  const keepers = crew()
    .filter(isKeeper)
    .map((keeper) => keeper.name)
    .join(' or ');
  return (
    <div class="pad setup-panel">
      <p>
        Only a keeper of the roster {what}: {keepers}.{' '}
        {person.value
          ? `At the tablet now: ${person.value.name}, ${rolesOf(person.value)}.`
          : 'Nobody has said who works with the tablet.'}
      </p>
      <button type="button" class="button main" onClick={() => void askWho()}>
        Hand the tablet to a keeper
      </button>
    </div>
  );
}
