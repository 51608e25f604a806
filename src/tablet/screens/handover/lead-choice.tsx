import type { Person } from '../../../../shared/logbook/standing.ts';
import { HANDOVER_ROLE } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';

/** The crew leads who may hand a shift over or take it over. */
export const leads = (view: View, except?: string): Person[] =>
  view.standing.people().filter((p) => !p.retired && p.roles.includes(HANDOVER_ROLE) && p.id !== except);

interface Props {
  readonly title: string;
  readonly people: readonly Person[];
  readonly onChoice: (person: string) => void;
  readonly onClose: () => void;
}

/** Which crew lead: a tap answers. */
export function LeadChoice({ title, people, onChoice, onClose }: Props) {
  return (
    <Overlay title={title} onClose={onClose} closeLabel="Cancel">
      {people.length === 0 ? (
        <>
          <p>A handover is between two crew leads, and the roster has no other. A keeper admits people in Setup.</p>
          <a class="button" href="/setup?part=people">
            People, in Setup
          </a>
        </>
      ) : (
        <ChoiceList
          legend="Crew leads"
          legendHidden
          choices={people.map((p) => ({ value: p.id, label: p.name, detail: 'crew lead' }))}
          value={null}
          onChoice={onChoice}
        />
      )}
    </Overlay>
  );
}
