import { useState } from 'preact/hooks';
import { isAnneal } from '../../../../shared/furnace/anneal.ts';
import { type Forecast, forecastOf, type Opening, openingOf } from '../../../../shared/furnace/forecast.ts';
import {
  channelsIn,
  type Difference,
  heatFigures,
  type RateNow,
  rateOverWindow,
} from '../../../../shared/furnace/heat-figures.ts';
import { controlFigures } from '../../../../shared/logbook/state/channels.ts';
import { plannedAt } from '../../../../shared/logbook/state/heat.ts';
import type { Heat } from '../../../../shared/logbook/state/rounds.ts';
import { allSamplesOf } from '../../../../shared/logbook/state/samples.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { formatFigure } from '../../parts/format-figure.ts';
import { Sheet } from '../../parts/sheet.tsx';
import type { SampledProps } from './use-logged.ts';
import { type WorkedFigure, WorkedFigures } from './worked-figures.tsx';

const HOUR_MS = 3_600_000;
const WINDOWS_H = [1, 4, 12, 24, 72];

/** What rounds and loggers say now: rate, spread, differences, and when it will be where. */
export function FiguresSheet({ view, heat, now_ms, logged }: SampledProps) {
  const [window_h, setWindow] = useState(isAnneal(view.plan, heat.plan) ? 24 : 4);
  const samples = allSamplesOf(view, heat, logged);
  if (samples.length === 0 || heat.ended_ms !== null) return null;
  const rate = rateOverWindow(samples, channelsIn(view, heat, heat.plan.control), now_ms, window_h);
  const { zones, vertical, radial } = heatFigures(view, heat, samples, now_ms);
  const forecast = forecastOf(view, heat, now_ms);
  const opening = forecast && openingOf(view, heat, forecast, now_ms);
  const figures = [
    ...(rate ? [rateRow(rate, plannedAt(heat, now_ms).rate_K_h)] : []),
    ...spreadRow(view, heat, now_ms),
    ...[zones, vertical, radial].flatMap((d) => (d ? [differenceRow(d)] : [])),
    ...(forecast ? forecastRows(view, heat, forecast, now_ms) : []),
    ...(opening ? [openingRow(view, opening)] : []),
  ];
  return (
    <Sheet
      class="figures-sheet"
      title="Worked out now"
      beside={logged ? 'from rounds and loggers' : undefined}
      aside={
        <label class="off-plan-group">
          <span class="hidden-text">Hours that the rate is taken over</span>
          <select class="input" value={window_h} onChange={(e) => setWindow(Number(e.currentTarget.value))}>
            {WINDOWS_H.map((h) => (
              <option key={h} value={h}>{`rate over ${h} h`}</option>
            ))}
          </select>
        </label>
      }
    >
      <WorkedFigures figures={figures} />
    </Sheet>
  );
}

/** As many decimals as the rate of an anneal needs, and no more for a ramp. */
const rateDecimals = (rate_K_h: number): number => (Math.abs(rate_K_h) < 1 ? 3 : 1);

export function rateRow(rate: RateNow, planned_K_h: number): WorkedFigure {
  const decimals = rateDecimals(rate.rate_K_h);
  const { expanded_K_h: expanded } = rate;
  return {
    name: `Rate over ${rate.span_h.toFixed(1)} h`,
    beside:
      planned_K_h === 0
        ? 'planned: a soak'
        : `planned ${formatFigure(planned_K_h, { decimals: planned_K_h % 1 === 0 ? 0 : 2, signed: true })} K/h`,
    figure: (
      <span>
        <Figure value={rate.rate_K_h} decimals={decimals} signed />
        <span class="n worked-more">
          {' '}
          {expanded === null ? '' : `± ${formatFigure(expanded, { decimals })}`}
          <span class="u">{'\u202fK/h'}</span>
        </span>
      </span>
    ),
    behind: {
      words: [
        `Least squares through ${rate.readings} means of ${rate.channels.join(', ')}: the channels that were read each time, so that the mean does not jump.`,
        expanded === null
          ? 'Two readings leave nothing over to judge the rate by: no uncertainty is given.'
          : `± is the 95 % interval from the scatter about the line, ${rate.readings - 2} degrees of freedom (JCGM 100:2008, G.3). What all thermocouples share cancels in a rate.`,
      ],
      worked: [rate.worked],
    },
  };
}

function spreadRow(view: View, heat: Heat, now_ms: number): WorkedFigure[] {
  const last = heat.walked.findLast((r) => Date.parse(r.entry.observedAt) <= now_ms);
  const control = last && controlFigures(view, heat, last.body.readings, Date.parse(last.entry.observedAt));
  if (!control) return [];
  const { spread_K, planned, spreadVerdict, counted, of, standardUncertainty_K: u } = control;
  return [
    {
      name: 'Spread of the control channels',
      beside: `limit ${planned.spread_K} K; ${counted} of ${of} read`,
      figure: <Figure value={spread_K} decimals={1} unit="K" />,
      verdict: spreadVerdict,
      behind: {
        words: [
          'Greatest less least of the control channels in the last round. A difference has the uncertainty of both.',
        ],
        worked: [
          {
            calculation: 'conformity',
            input: { value: spread_K, standard_uncertainty: Math.SQRT2 * u, upper_limit: planned.spread_K },
          },
        ],
      },
    },
  ];
}

const capital = (text: string): string => text[0]!.toUpperCase() + text.slice(1);

const differenceRow = ({ name, value_K, formula }: Difference): WorkedFigure => ({
  name: capital(name),
  figure: <Figure value={value_K} decimals={1} signed unit="K" />,
  behind: {
    words: [
      `${formula} = ${formatFigure(value_K, { decimals: 2, signed: true })} K, from the newest reading of each channel.`,
    ],
  },
});

function forecastRows(view: View, heat: Heat, forecast: Forecast, now_ms: number): WorkedFigure[] {
  const { dayOne, timeZone } = view.genesis;
  const at = (ms: number) => dayAndTime(new Date(ms), dayOne, timeZone);
  const { behind_h, formula, next_ms, end_ms } = forecast;
  const { segment } = plannedAt(heat, now_ms);
  const where =
    behind_h === 0
      ? 'on the plan'
      : `${formatFigure(Math.abs(behind_h), { decimals: 1 })} h ${behind_h > 0 ? 'behind' : 'ahead of'} the plan`;
  const behind = {
    words: [
      `${capital(where)}: ${formula}.`,
      'The rest is taken at the rates of the plan; nothing is gained or lost on the way.',
    ],
  };
  const row = (name: string, ms: number): WorkedFigure => ({
    name,
    beside: `${at(ms)}, ${where}`,
    figure: <Figure value={Math.max(0, ms - now_ms) / HOUR_MS} decimals={1} unit="h" />,
    behind,
  });
  return [
    ...(segment < heat.plan.segments.length ? [row(`To segment ${segment + 1}`, next_ms)] : []),
    row('To the end of the heat', end_ms),
  ];
}

function openingRow({ genesis, plan }: View, { at_ms, days, operation, formula }: Opening): WorkedFigure {
  const hold = plan.holds.find((h) => h.before.includes(operation));
  return {
    name: 'Until opening',
    beside: `${dayAndTime(new Date(at_ms), genesis.dayOne, genesis.timeZone)} at the earliest`,
    figure: <Figure value={days} decimals={1} unit="d" />,
    behind: {
      words: [
        `${formula} = ${days.toFixed(1)} days, at the rates of the plan.`,
        `Opening is operation ${operation}. It waits besides for the hottest glass to stand near the hall's temperature for a day${hold ? `, and for hold point ${hold.id}` : ''}: this figure allows nothing by itself.`,
      ],
    },
  };
}
