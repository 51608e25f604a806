import type { RefObject } from 'preact';
import { useMemo } from 'preact/hooks';
import { groupName } from '../../../../shared/logbook/state/group-name.ts';
import { Screen } from '../../app/screen.tsx';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import type { KeptChart as Kept } from '../../storage/kept-chart.ts';
import type { Stretch } from './chart/chart-content.ts';
import { keptContent } from './chart/kept-lines.ts';
import { useTimeChart } from './chart/use-time-chart.ts';
import { ChartFrame } from './chart-frame.tsx';

interface Props {
  readonly kept: Kept;
  readonly timeZone: string;
  readonly dayOne: string;
  readonly place: RefObject<Stretch | null>;
}

/** The chart as it was kept, while the log is being read. It moves; it is read off once the samples are there. */
export function KeptChart({ kept, timeZone, dayOne, place }: Props) {
  const content = useMemo(() => keptContent(kept), [kept]);
  const last = kept.heats.at(-1);
  const heat = last ? { from_ms: last[0]!.at_ms, to_ms: Math.min(last.at(-1)!.at_ms, kept.kept_ms) } : kept;
  const hands = useTimeChart({
    timeZone,
    dayOne,
    content,
    whole: kept,
    heat: heat.to_ms > heat.from_ms ? heat : kept,
    place,
    onRest: () => {},
  });
  return (
    <Screen place="furnace" name="Chart" operation="All heats" work="heat-chart-work">
      <ChartFrame
        hands={hands}
        name={groupName(kept.group)}
        aside={`${groupName(kept.group)}, ${kept.group}`}
        busy
        timeZone={timeZone}
        dayOne={dayOne}
      />
      <div class="heat-chart-hand">
        <Sheet graduated title="Readings" beside="as kept">
          <p class="pad">
            The chart as it was kept on {dayAndTime(new Date(kept.kept_ms), dayOne, timeZone)}. The log is being read;
            then it can be read off here.
          </p>
        </Sheet>
      </div>
    </Screen>
  );
}
