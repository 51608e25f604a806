import type { View } from '../../../shared/logbook/state/view.ts';
import { person } from '../app/session.ts';
import { ChoiceList } from '../parts/choice-list.tsx';

interface Props {
  readonly view: View;
  readonly legend: string;
  readonly legendHidden?: boolean;
  /** Null for the person at the tablet. */
  readonly observer: string | null;
  readonly onObserver: (observer: string | null) => void;
}

/** Who reads while the person at the tablet types. */
export function WhoReads({ view, legend, legendHidden = false, observer, onObserver }: Props) {
  const people = view.standing.people().filter((p) => !p.retired);
  const self = person.value?.id ?? '';
  return (
    <ChoiceList
      legend={legend}
      legendHidden={legendHidden}
      value={observer ?? self}
      onChoice={(id) => onObserver(id === self ? null : id)}
      choices={people.map((p) => ({
        value: p.id,
        label: p.name,
        detail: p.id === self ? 'works with the tablet and types' : 'reads; you type',
      }))}
    />
  );
}
