import { type Account, levelMeanings, type MeltNow, type Port } from '../../../../shared/furnace/melt.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Shown } from '../../app/units.ts';
import { Figure } from '../../parts/figure.tsx';
import { formatFigure } from '../../parts/format-figure.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { type WorkedFigure, WorkedFigures } from './worked-figures.tsx';

/** Settled or not, in a word for the whole melt. */
export const meltWord = ({ ports, settled }: MeltNow): string => {
  if (settled) return 'settled';
  const states = new Set(ports.map((p) => p.state));
  if (states.has('rising')) return 'rising at a port';
  if (ports.every((p) => p.state === 'not read')) return 'no level read yet';
  return states.has('still falling') || states.has('no curve yet') ? 'still falling' : 'not settled yet';
};

/** The melt in figures, each with its working. */
export function meltFigures(melt: MeltNow, shown: Shown): WorkedFigure[] {
  return [
    ...melt.ports.map((port) => portRow(port, shown)),
    ...apartRow(melt, shown),
    ...(melt.account ? accountRows(melt.account, shown) : []),
  ];
}

function portRow({ station, points, state, words, final_mm, fitBy, curve }: Port, shown: Shown): WorkedFigure {
  const figure = (mm: number) => `${formatFigure(shown.value(mm), { decimals: shown.decimals })} ${shown.unit}`;
  return {
    name: `Port ${station.label}: ${state}`,
    beside: curve && final_mm !== null ? `${words}; comes to rest at ${figure(final_mm)}` : words,
    figure: <Figure value={shown.value(points.at(-1)?.level_mm ?? null)} decimals={shown.decimals} unit={shown.unit} />,
    behind: {
      words: [
        `${points.length} ${points.length === 1 ? 'reading' : 'readings'} at this port: ${words}.`,
        'Settled needs less than the limit left to fall, two standard errors counted in, from a record of at least two time constants. The working is in mm.',
      ],
      ...(fitBy ? { worked: [fitBy] } : {}),
    },
  };
}

function apartRow({ apart_mm, apartLimit_mm }: MeltNow, shown: Shown): WorkedFigure[] {
  if (apart_mm === null) return [];
  const limit =
    apartLimit_mm === null
      ? ''
      : `limit ${formatFigure(shown.span(apartLimit_mm), { decimals: shown.decimals })} ${shown.unit}`;
  return [
    {
      name: 'Ports apart',
      beside: limit,
      figure: <Figure value={shown.span(apart_mm)} decimals={shown.decimals} unit={shown.unit} />,
      ...(apartLimit_mm === null
        ? {}
        : { verdict: apart_mm > apartLimit_mm ? ('outside' as const) : ('within' as const) }),
      behind: {
        words: [
          'Greatest less least of the newest reading at each port, without guard: they tell tilt and rate, not an amount of glass.',
        ],
      },
    },
  ];
}

function accountRows(account: Account, shown: Shown): WorkedFigure[] {
  const { off_mm, verdict, missing_kg, standing_kg, loaded_kg, planned, lines, level_mm, expected_mm, limit_mm } =
    account;
  const figure = (mm: number) => formatFigure(shown.value(mm), { decimals: shown.decimals });
  const behind = {
    words: [
      `${Math.abs(missing_kg).toFixed(1)} kg ${missing_kg > 0 ? 'less' : 'more'} stands in the mould than should. What soaks in, evaporates or stays as skin is allowed for.`,
      ...(planned ? ['Nobody recorded the mass loaded (operation 8.2): the mass of the plan is taken.'] : []),
      'Gaps that are not full yet make the level too high; so this counts once it has settled.',
    ],
    lines,
    worked: [
      {
        calculation: 'conformity',
        input: { value: off_mm, standard_uncertainty: 0.6, lower_limit: -limit_mm, upper_limit: limit_mm },
      },
    ],
  };
  return [
    {
      name: 'Final level against the load',
      beside: `${figure(level_mm)}, should be ${figure(expected_mm)} ${shown.unit}`,
      figure: <Figure value={shown.span(off_mm)} decimals={shown.decimals} signed unit={shown.unit} />,
      verdict,
      behind,
    },
    {
      name: 'Glass accounted for',
      beside: `of ${loaded_kg.toFixed(1)} kg loaded${planned ? ' by the plan' : ''}`,
      figure: <Figure value={standing_kg} decimals={1} unit="kg" />,
      behind,
    },
  ];
}

/** What a level that does not close can mean, with the cautions of the operation. */
export function MeaningsSheet({ view, melt }: { view: View; melt: MeltNow }) {
  const meanings = levelMeanings(melt);
  if (meanings.length === 0) return null;
  const { plan } = view;
  const named = plan.operations.find((o) => o.id === melt.operation)?.cautions ?? [];
  const cautions = plan.cautions.filter((c) => named.includes(c.id));
  return (
    <Sheet class="meanings" title="What this can mean">
      <ol class="pad stack-small meanings-list">
        {meanings.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ol>
      <div class="pad stack-small meanings-cautions">
        <p>
          <b>Hot glass outside the mould burns, and it shorts heaters.</b> Nobody goes under or close to the furnace to
          look. Call the crew lead and the process engineer at once.
        </p>
        {cautions.map((c) => (
          <p key={c.id} class="small">
            <b>{c.name}.</b> {c.text}
          </p>
        ))}
        <p class="small dim">{plan.cautionClosing}</p>
      </div>
    </Sheet>
  );
}

export function MeltFigures({ melt, shown }: { melt: MeltNow; shown: Shown }) {
  return <WorkedFigures figures={meltFigures(melt, shown)} />;
}
