import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { NOT_ASKED } from '../../../../../shared/logbook/state/core-marks.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { coresOf } from '../../../../../shared/plan/cores.ts';
import { CoreHexagon } from '../../../parts/core-map/core-hexagon.tsx';
import { CoreMap } from '../../../parts/core-map/core-map.tsx';
import { coreMarks, coreMarkWords, type MapCore } from '../../../parts/core-map/core-mark.ts';
import { Filter } from '../../../parts/filter.tsx';
import { Sheet } from '../../../parts/sheet.tsx';
import { CoreList } from './core-list.tsx';
import { countMarks, isLooked, type Looked, type MarkCounts, stateWords } from './core-words.ts';
import './cores.css';
import type { CoreStates } from './use-core-states.ts';

export interface CoresSheetProps {
  readonly view: View;
  /** Null while they are being counted. */
  readonly states: CoreStates | null;
  /** The core that is worked at, or the two beside a gap, the chosen one first. */
  readonly chosen: readonly string[];
  readonly onChoose: (address: string) => void;
  readonly onEnter?: (() => void) | undefined;
  /** Stands beside the map. */
  readonly children: ComponentChildren;
}

type Shown = 'map' | 'list';
const NO_STATES: CoreStates = new Map();
const NO_CORES: readonly MapCore[] = [];

/** The cores of the mould as a map, and as a list by rings with the same content; what is looked for stands out in both. */
export function CoresSheet(props: CoresSheetProps) {
  const { view, states: counted, chosen, onChoose } = props;
  const [shown, show] = useState<Shown>('map');
  const [looked, look] = useState<Looked>('all');
  const states = counted ?? NO_STATES;
  const counts = useMemo(() => countMarks(states.values()), [states]);
  // Nothing is drawn twice: the cores come with their counts.
  const cores = useMemo(() => (counted ? mapCores(view, counted, looked) : NO_CORES), [view.plan, counted, looked]);
  const { blank_diameter_mm, pitch_mm, gap_mm } = view.plan.design;
  const state = states.get(chosen[0] ?? '') ?? NOT_ASKED;
  return (
    <Sheet class="cores-sheet" label="Cores">
      <header class="cores-ways">
        <h2>Cores</h2>
        <Filter<Shown>
          legend="Cores as"
          choices={[
            { value: 'map', label: 'Map' },
            { value: 'list', label: 'List' },
          ]}
          value={shown}
          onChoice={show}
        />
        <Filter<Looked>
          legend="Cores that are looked for"
          choices={[
            { value: 'all', label: 'All' },
            { value: 'to-measure', label: `To measure ${counts.missing + counts.begun}` },
            { value: 'wants-hand', label: `Not within ${counts.outside + counts['not-proven']}` },
          ]}
          value={looked}
          onChoice={look}
        />
      </header>
      <div class="cores-drawing">
        {shown === 'map' ? (
          <CoreMap
            label={mapWords(counts, counted === null)}
            cores={cores}
            pitch_mm={pitch_mm}
            across_mm={pitch_mm - gap_mm}
            radius_mm={blank_diameter_mm / 2}
            chosen={chosen}
            chosenWords={chosen[0] === undefined ? '' : `Core ${chosen[0]}: ${stateWords(state)}`}
            onChoose={onChoose}
            onEnter={props.onEnter}
          />
        ) : (
          <CoreList cores={cores} states={states} chosen={chosen[0] ?? null} looked={looked} onChoose={onChoose} />
        )}
        <div class="cores-beside">{props.children}</div>
      </div>
      <Legend counts={counts} counting={counted === null} />
    </Sheet>
  );
}

const mapCores = ({ plan }: View, states: CoreStates, looked: Looked): MapCore[] =>
  coresOf(plan).map(({ address, x_mm, y_mm }) => {
    const { mark } = states.get(address) ?? NOT_ASKED;
    return { address, x_mm, y_mm, mark, faint: !isLooked(looked, mark) };
  });

const mapWords = (counts: MarkCounts, counting: boolean): string =>
  counting
    ? 'Map of the cores, being counted'
    : `Map of the cores: ${coreMarks
        .filter((mark) => counts[mark] > 0)
        .map((mark) => `${counts[mark]} ${coreMarkWords[mark]}`)
        .join(', ')}`;

function Legend({ counts, counting }: { counts: MarkCounts; counting: boolean }) {
  return (
    <ul class="cores-legend" aria-label="Legend">
      {coreMarks
        .filter((mark) => counts[mark] > 0 || mark === 'within' || mark === 'missing')
        .map((mark) => (
          <li key={mark}>
            <CoreHexagon mark={mark} />
            <b class="n">{counting ? '–' : counts[mark]}</b> {coreMarkWords[mark]}
          </li>
        ))}
      <li class="cores-how note">ring . number, counter-clockwise from 0°</li>
    </ul>
  );
}
