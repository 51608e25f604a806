import { useEffect, useRef, useState } from 'preact/hooks';
import { NOT_ASKED } from '../../../../../shared/logbook/state/core-marks.ts';
import { ringOf } from '../../../../../shared/plan/cores.ts';
import { CoreHexagon } from '../../../parts/core-map/core-hexagon.tsx';
import { coreMarks, coreMarkWords, type MapCore } from '../../../parts/core-map/core-mark.ts';
import { countMarks, type Looked, stateWords } from './core-words.ts';
import type { CoreStates } from './use-core-states.ts';

export interface CoreListProps {
  readonly cores: readonly MapCore[];
  readonly states: CoreStates;
  readonly chosen: string | null;
  readonly looked: Looked;
  readonly onChoose: (address: string) => void;
}

/** The map in words: ring by ring, one ring open at a time; of what is looked for only what is found. */
export function CoreList({ cores, states, chosen, looked, onChoose }: CoreListProps) {
  const [open, setOpen] = useState<number | null>(chosen === null ? 0 : ringOf(chosen));
  const box = useRef<HTMLUListElement>(null);
  useEffect(() => {
    box.current?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest' });
  }, [open, chosen]);
  // The choice moved on, by the walk or on the map: its ring opens.
  useEffect(() => {
    if (chosen !== null) setOpen(ringOf(chosen));
  }, [chosen]);
  const found = cores.filter((core) => !core.faint);
  const rings = [...new Set(found.map((core) => ringOf(core.address)))].sort((a, b) => a - b);
  if (rings.length === 0)
    return (
      <div class="cores-list empty">
        <p>{looked === 'to-measure' ? 'Nothing is left to measure here.' : 'Nothing is outside or not proven here.'}</p>
      </div>
    );
  return (
    <ul ref={box} class="rows cores-list" aria-label="Cores by ring">
      {rings.map((ring) => {
        const inRing = found.filter((core) => ringOf(core.address) === ring);
        return (
          <li key={ring} class="cores-ring">
            <button
              type="button"
              class="row"
              aria-expanded={open === ring}
              onClick={() => setOpen(open === ring ? null : ring)}
            >
              <span class="grow">
                <b>
                  Ring <span class="n">{ring}</span>
                </b>
                <span class="second small dim">{ringWords(inRing)}</span>
              </span>
              <span class="small dim">{open === ring ? 'close' : 'open'}</span>
            </button>
            {open === ring && (
              <ul class="rows cores-of-ring">
                {inRing.map(({ address, mark }) => (
                  <li key={address}>
                    <button
                      type="button"
                      class="row"
                      aria-current={address === chosen ? 'true' : undefined}
                      onClick={() => onChoose(address)}
                    >
                      <CoreHexagon mark={mark} />
                      <b class="n">{address}</b>
                      <span class="grow small">{stateWords(states.get(address) ?? NOT_ASKED)}</span>
                    </button>
                  </li>
                ))}
              </ul>
            )}
          </li>
        );
      })}
    </ul>
  );
}

function ringWords(cores: readonly MapCore[]): string {
  const counts = countMarks(cores.map(({ mark }) => ({ ...NOT_ASKED, mark })));
  return coreMarks
    .filter((mark) => counts[mark] > 0)
    .map((mark) => `${counts[mark]} ${coreMarkWords[mark]}`)
    .join(', ');
}
