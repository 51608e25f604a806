import { type SpinNow, spinNow } from '../../../../shared/furnace/spin.ts';
import type { Heat } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { FindingLink } from '../../shared-screens/finding-link.tsx';
import { type WorkedFigure, WorkedFigures } from './worked-figures.tsx';

/** The rate of spin in a heat that needs one: the last reading, what it makes of the blank, and how long it stood. */
export function SpinSheet({ view, heat, operation }: { view: View; heat: Heat; operation: string | undefined }) {
  const spin = operation === undefined ? null : spinNow(view, heat, operation);
  if (!spin) return null;
  return (
    <Sheet title="Spin" beside={`${spin.lower.toFixed(4)} to ${spin.upper.toFixed(4)} rpm`}>
      <SpinFindings spin={spin} />
      <WorkedFigures figures={spinFigures(view, spin)} />
      <div class="pad">
        <a class="button wide" href={`/furnace/${operation}/spin`}>
          Time the rate
        </a>
      </div>
    </Sheet>
  );
}

/** A rate outside while glass is fluid, said first. */
export function SpinFindings({ spin }: { spin: SpinNow }) {
  if (spin.findings.length === 0) return null;
  return (
    <ul class="rows">
      {spin.findings.map((finding) => (
        <li key={finding.id}>
          <FindingLink finding={finding} />
        </li>
      ))}
    </ul>
  );
}

/** The figures of the spin, each with its working. */
export function spinFigures({ genesis }: View, spin: SpinNow): WorkedFigure[] {
  const { last, radius, hoursAtRate, hoursOutside, hottest_C, fluidAbove_C, points } = spin;
  const fluid =
    hottest_C === null
      ? 'no glass channel is read yet'
      : `hottest glass ${hottest_C.toFixed(0)} °C: ${hottest_C > fluidAbove_C ? 'it follows the rotation' : 'it no longer follows'}`;
  const rows: WorkedFigure[] = [];
  if (last)
    rows.push({
      name: last.by === 'hand' ? 'Last timed rate' : 'Rate by the encoder',
      beside: `${dayAndTime(new Date(last.at_ms), genesis.dayOne, genesis.timeZone)}; ${fluid}`,
      figure: <Figure value={last.rpm} decimals={last.by === 'hand' ? 4 : 2} unit="rpm" />,
      verdict: last.reading?.body.verdict ?? null,
      behind: {
        words: [
          `Limits ${spin.lower} to ${spin.upper} rpm, from the wanted radius of curvature and its tolerance.`,
          last.within ? 'The figure lies between the limits.' : 'The figure lies outside the limits.',
          'A rate timed by hand over 100 turns is judged with its uncertainty; the encoder shows fewer digits.',
        ],
      },
    });
  if (radius)
    rows.push({
      name: 'Radius of curvature that it gives',
      beside: `wanted ${radius.wanted_m} ± ${radius.tolerance_m} m at 20 °C`,
      figure: (
        <span>
          <Figure value={radius.radius_m} decimals={3} />
          <span class="n worked-more">
            {` ± ${(2 * radius.u_m).toFixed(3)}`}
            <span class="u">{'\u202fm'}</span>
          </span>
        </span>
      ),
      behind: {
        words: [
          `± is two standard uncertainties from the timing alone: 2 · 2 R u(n)/n. Gravity and set temperature come to it.`,
        ],
        worked: [radius.worked],
      },
    });
  if (spin.change_rpm !== null)
    rows.push({
      name: 'Change within the hour',
      beside: spin.changeLimit_rpm === null ? '' : `limit ± ${spin.changeLimit_rpm} rpm`,
      figure: <Figure value={spin.change_rpm} decimals={4} signed unit="rpm" />,
      behind: {
        words: [
          'The last timed rate less the first of the hour before it. A rate that wanders moves the surface as long as glass is fluid.',
        ],
      },
    });
  rows.push({
    name: 'At rate',
    beside: 'between readings that were both within',
    figure: <Figure value={hoursAtRate} decimals={1} unit="h" />,
    behind: {
      words: [
        `Sum of the times between readings of which both were within, ${points.length} readings by hand and encoder. Readings more than 6 h apart say nothing of the time between. The run-up is not counted.`,
      ],
    },
  });
  if (hoursOutside > 0)
    rows.push({
      name: 'Outside while glass was fluid',
      beside: 'between readings of which one was outside',
      figure: <Figure value={hoursOutside} decimals={1} unit="h" />,
      behind: {
        words: [
          `Sum of the times between readings of which one at least was outside, with glass above ${fluidAbove_C} °C. It is the longest that it can have been, not the time that it was.`,
        ],
      },
    });
  return rows;
}
