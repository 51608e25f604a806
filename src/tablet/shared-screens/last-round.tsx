import type { Kept } from '../../../shared/logbook/log.ts';
import {
  channelsOf,
  controlFigures,
  type GroupFigures,
  groupFigures,
  isControl,
} from '../../../shared/logbook/state/channels.ts';
import type { Planned } from '../../../shared/logbook/state/heat.ts';
import type { Heat } from '../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { clockTime, dayAndTime } from '../app/time.ts';
import { Figure } from '../parts/figure.tsx';
import { LimitStrip } from '../parts/limit-strip.tsx';
import { VerdictMark } from '../parts/verdict-mark.tsx';
import './last-round.css';

/** The groups of the last round; the control channels on the strip of the band, with their verdict. */
export function LastRound({ view, heat, round, few }: { view: View; heat: Heat; round: Kept<'round'>; few?: boolean }) {
  const { body, entry } = round;
  const at_ms = Date.parse(entry.observedAt);
  const { timeZone, dayOne } = view.genesis;
  const channels = channelsOf(view, heat).map((h) => h.channel);
  const control = controlFigures(view, heat, body.readings, at_ms);
  const groups = groupFigures(view.plan, channels, body.readings);
  const isHeld = (g: GroupFigures) => channels.some((c) => c.group === g.group && isControl(heat.plan, c));
  const held = groups.filter(isHeld);
  const others = groups.filter((g) => !isHeld(g) && (!few || ['CR', 'WU', 'WL', 'FC', 'BP'].includes(g.group)));
  const number = heat.rounds.find((r) => r.written?.hash === round.hash)?.number;
  return (
    <section class="last-round">
      <p class="last-round-head">
        <b>Last round{number === undefined ? '' : `, ${number}`}</b>
        <span class="small dim">
          {few ? clockTime(entry.observedAt, timeZone) : dayAndTime(entry.observedAt, dayOne, timeZone)} ·{' '}
          {view.standing.person(body.observer)?.name ?? 'somebody not admitted'}
          {control && (
            <>
              {' '}
              · planned <Figure value={control.planned.planned_C} decimals={1} unit="°C" />
            </>
          )}
        </span>
      </p>
      <ul class="last-round-groups">
        {control && held.length > 0 && (
          <li class="last-round-control">
            <span class="last-round-name">
              {held.map((g) => g.name).join(', ')}
              <span class="note">
                {control.counted} of {control.of}, control
              </span>
            </span>
            <Figure class="last-round-value" value={control.mean} decimals={1} />
            <BandStrip
              value={control.mean}
              planned={control.planned}
              guard={control.guard_K}
              verdict={control.verdict}
            />
            <span class="last-round-verdict small">
              <VerdictMark verdict={control.verdict} tag={control.verdict !== 'within'} />
              <span>
                <Figure value={control.deviation_K} decimals={1} signed unit="K" /> of ±{control.planned.band_K}
              </span>
              <span>
                spread <Figure value={control.spread_K} decimals={1} unit="K" /> of {control.planned.spread_K}
                {control.spreadVerdict !== 'within' && (
                  <>
                    :{' '}
                    <b class={control.spreadVerdict}>
                      {control.spreadVerdict === 'outside' ? 'outside' : 'not proven'}
                    </b>
                  </>
                )}
              </span>
            </span>
          </li>
        )}
        {others.map((g) => (
          <li key={g.group}>
            <span class="last-round-name">
              {g.name}
              <span class="note">
                {g.counted} of {g.of}
              </span>
            </span>
            <Figure class="last-round-value" value={g.mean} decimals={1} />
            <span class="note n">
              {g.least.toFixed(1)} … {g.greatest.toFixed(1)}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function BandStrip(props: {
  value: number;
  planned: Planned;
  guard: number;
  verdict: 'within' | 'outside' | 'not-proven';
}) {
  const { value, planned, guard, verdict } = props;
  return (
    <LimitStrip
      size="M"
      value={value}
      lower={planned.planned_C - planned.band_K}
      upper={planned.planned_C + planned.band_K}
      nominal={planned.planned_C}
      guard={guard}
      verdict={verdict}
      unit="°C"
      decimals={0}
    />
  );
}
