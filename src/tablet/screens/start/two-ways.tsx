import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { practiceDesign } from '../../../../shared/plan/practice-design.ts';
import { Problem } from '../../app/problem.tsx';
import { castings } from '../../app/tablet.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { BlankDrawing } from './blank-drawing.tsx';
import { Caution } from './caution.tsx';
import { Progress } from './progress.tsx';
import { StartFrame } from './start-frame.tsx';

/** No casting yet: begin one from its design, join one that others have begun, or look round in the practice casting. */
export function TwoWays() {
  const first = castings.value.length === 0;
  return (
    <StartFrame
      name="Lehrbook"
      line={first ? 'No casting on this tablet yet' : 'Another casting on this tablet'}
      note="the logbook of a spin-cast blank"
      work="start-ways start-first"
    >
      <Sheet title="Start a casting" graduated>
        <div class="pad start-way">
          <p>
            From the design of the blank: its limits, spin rate and glass mass are worked out as you type. Then day 1,
            this tablet, and you as keeper of the roster.
          </p>
          <p class="dim">
            Everything is kept on this tablet and works without a network. Another tablet joins later, by the casting’s
            fingerprint.
          </p>
          <a class="button main" href="/start?step=design">
            Start a casting
          </a>
          <a class="button" href="/start?step=join">
            Join a casting that others have begun
          </a>
        </div>
      </Sheet>
      <Practice />
      <Sheet title="The practice blank" aside="invented" class="start-plate">
        <BlankDrawing design={practiceDesign} />
      </Sheet>
      <Caution />
    </StartFrame>
  );
}

function Practice() {
  const { route } = useLocation();
  const state = useSignal<{ done: number; of: number } | { error: string } | null>(null);
  const open = async (story: 'survey' | 'cores' | 'melt' | 'anneal' | 'cool-down') => {
    state.value = { done: 0, of: 0 };
    try {
      const { openPractice } = await import('../../acts/open-practice.ts');
      await openPractice((done, of) => {
        state.value = { done, of };
      }, story);
      route('/');
    } catch (error) {
      state.value = { error: error instanceof Error ? error.message : String(error) };
    }
  };
  const now = state.value;
  return (
    <Sheet title="The practice casting" aside={<span class="practice">Practice</span>}>
      <div class="pad start-way">
        <p>
          An invented 3.2 m blank with days of readings, a limit overrun, a release in doubt and a struck entry. For
          learning: nothing in it is real, and it never mixes with a casting.
        </p>
        {castings.value.some((casting) => casting.practice) && (
          <p class="dim">One is on this tablet already; Setup opens it. This makes another, from the start.</p>
        )}
        {now && 'error' in now && (
          <Problem
            title="The practice casting did not open"
            words={now.error}
            safe="Nothing else on this tablet was touched. Try again."
          />
        )}
        {now && 'done' in now ? (
          <Progress done={now.done} of={now.of} doing="The practice casting is being written" />
        ) : (
          <>
            <button type="button" class="button" onClick={() => void open('survey')}>
              Open the practice casting
            </button>
            <button type="button" class="button" onClick={() => void open('cores')}>
              Open it before glass loading
            </button>
            <button type="button" class="button" onClick={() => void open('melt')}>
              Open it at the melt watch
            </button>
            <button type="button" class="button" onClick={() => void open('anneal')}>
              Open it in the anneal
            </button>
            <button type="button" class="button" onClick={() => void open('cool-down')}>
              Open it at the end of the cool-down
            </button>
            <p class="small dim">
              In the last three the weeks between are left out: their sheets are empty, and their hold points stand
              open. The last has every heat, with the record of the furnace’s logger.
            </p>
          </>
        )}
      </div>
    </Sheet>
  );
}
