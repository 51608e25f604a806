import type { ComponentChildren } from 'preact';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import type { Stretch } from './chart/chart-content.ts';
import type { ChartHands } from './chart/use-time-chart.ts';

export interface ChartFrameProps {
  readonly hands: ChartHands;
  /** Which channels it shows, in words. */
  readonly name: string;
  /** What says or chooses the channels. */
  readonly aside: ComponentChildren;
  /** More of what is shown is still being read. */
  readonly busy: boolean;
  readonly timeZone: string;
  readonly dayOne: string;
}

/** The sheet with the chart, and the buttons that move it. */
export function ChartFrame({ hands, name, aside, busy, timeZone, dayOne }: ChartFrameProps) {
  const words = stretchWords(hands.shown, timeZone, dayOne);
  return (
    <Sheet class="heat-chart-sheet" title="Temperature" beside={`°C, ${words}`} aside={aside}>
      <p class="hidden-text" id="chart-keys">
        Arrow keys left and right move in time, up and down bring it closer or wider; Home shows the whole casting, End
        the heat. Enter reads in the middle, comma and full stop go on from there.
      </p>
      <div
        class="heat-chart"
        ref={hands.host}
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: keys must reach it
        tabIndex={0}
        aria-label={`Chart of ${name}, ${words}`}
        aria-describedby="chart-keys"
        aria-busy={busy}
        onKeyDown={hands.key}
      />
      <Buttons hands={hands} />
    </Sheet>
  );
}

function Buttons({ hands }: { hands: ChartHands }) {
  return (
    <div class="buttons heat-chart-buttons no-print">
      <button type="button" class="button" onClick={hands.earlier}>
        Earlier
      </button>
      <button type="button" class="button" onClick={hands.later}>
        Later
      </button>
      <button type="button" class="button" onClick={hands.closer}>
        Closer
      </button>
      <button type="button" class="button" onClick={hands.wider}>
        Wider
      </button>
      <button type="button" class="button" onClick={hands.thisHeat}>
        This heat
      </button>
      <button type="button" class="button" onClick={hands.all}>
        All heats
      </button>
    </div>
  );
}

const stretchWords = ({ from_ms, to_ms }: Stretch, timeZone: string, dayOne: string): string =>
  `${dayAndTime(new Date(from_ms), dayOne, timeZone)} to ${dayAndTime(new Date(to_ms), dayOne, timeZone)}`;
