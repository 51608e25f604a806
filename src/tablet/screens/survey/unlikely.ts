import type { Typed } from '../../../../shared/logbook/kinds.ts';
import type { LimitsAt } from '../../../../shared/plan/lookup.ts';
import type { Plan } from '../../../../shared/plan/schema.ts';
import { formatFigure, groupThousands } from '../../parts/format-figure.ts';

/** A figure that was typed, with what it is compared with; all in the unit that it was typed in. */
export interface Figure {
  readonly text: string;
  /** As read. */
  readonly read: number;
  /** As judged. */
  readonly value: number;
  readonly limits: LimitsAt;
  readonly unit: string;
  readonly decimals: number;
  /** What stands at other stations, as deviations from their nominals. */
  readonly others: readonly number[];
}

/** A deviation of so many tolerances is more likely a slip of the hand. */
const TOLERANCES = 10;
/** How much nearer the others two swapped digits must bring it. */
const NEARER = 5;

/**
 * What a person is asked about a figure before it is kept, or null. It is asked once; nothing is refused for it.
 */
export function unlikely(figure: Figure): string | null {
  const { text, value, limits, unit, decimals } = figure;
  const again = 'Enter again to keep it.';
  const swapped = swappedDigits(figure);
  if (swapped !== null) return `${shown(text)}: two digits swapped? ${shown(swapped)} would fit the others. ${again}`;
  const wanted = limits.nominal ?? limits.upper ?? limits.lower;
  const tolerance = toleranceOf(limits);
  if (wanted === null || tolerance === null || Math.abs(value - wanted) <= TOLERANCES * tolerance) return null;
  const far = formatFigure(Math.abs(value - wanted), { decimals: Math.abs(value - wanted) >= 100 ? 0 : decimals });
  const from = limits.nominal === null ? 'the limit' : 'nominal';
  return `${shown(text)}: ${far} ${unit} from ${from}. ${again}`.replace('  ', ' ');
}

const shown = (text: string): string => text.replace(/\d+/, groupThousands);

/** Half the width between the limits, or what the one limit leaves. */
function toleranceOf({ nominal, lower, upper }: LimitsAt): number | null {
  if (lower !== null && upper !== null) return (upper - lower) / 2;
  const limit = upper ?? lower;
  if (limit === null) return null;
  return Math.abs(limit - (nominal ?? 0)) || null;
}

/** The text with two neighbouring digits swapped, where that would bring it much nearer to the other stations. */
function swappedDigits({ text, read, value, limits, others }: Figure): string | null {
  const tolerance = toleranceOf(limits);
  if (others.length < 2 || tolerance === null) return null;
  const usual = others.reduce((a, b) => a + b, 0) / others.length;
  const distance = (v: number) => Math.abs(v + (value - read) - (limits.nominal ?? 0) - usual);
  if (distance(read) <= tolerance) return null;
  const swaps = [...text].flatMap((_, i) => {
    const pair = /^(.*?)(\d)([.,]?)(\d)(.*)$/.exec(text.slice(i));
    return pair && pair[1] === '' && pair[2] !== pair[4]
      ? [`${text.slice(0, i)}${pair[4]}${pair[3]}${pair[2]}${pair[5]}`]
      : [];
  });
  const readings = swaps.map((swap) => ({ swap, distance: distance(Number(swap.replace(',', '.'))) }));
  const best = readings.sort((a, b) => a.distance - b.distance)[0];
  return best && best.distance <= tolerance && best.distance * NEARER < distance(read) ? best.swap : null;
}

/** The temperatures that bring a length to 20 °C, as typed; null where one is no temperature. */
export interface TypedTemperatures {
  readonly part: Typed | null;
  readonly scale: Typed | null;
  /** What the part is called: "Tub". */
  readonly partName: string;
}

/** A hall may be colder or warmer than the plan wants the tub, K; common practice, no source. */
const COLDER_K = 5;
const WARMER_K = 15;
/** What the plan of the practice blank allows, where a plan names no limits, °C. */
const TUB_C = { lower: 10, upper: 30 };
/** A scale that lies in the same hall is seldom further from the part, K; common practice, no source. */
const APART_K = 15;

/** What a person is asked about the temperatures before they are used; nothing is refused for it. */
export function unlikelyTemperatures(plan: Plan, { part, scale, partName }: TypedTemperatures): string[] {
  const planned = plan.characteristics.find((c) => c.id === 'tub-temperature')?.limits[0];
  const low = (planned?.lower ?? TUB_C.lower) - COLDER_K;
  const high = (planned?.upper ?? TUB_C.upper) + WARMER_K;
  const beyond = (name: string, typed: Typed | null) =>
    typed && (typed.value < low || typed.value > high)
      ? [`${name} ${asTyped(typed)}: outside ${low} to ${high} °C. Enter again to keep it.`]
      : [];
  const apart = part && scale ? Math.abs(part.value - scale.value) : 0;
  return [
    ...beyond(partName, part),
    ...beyond('Scale', scale),
    ...(part && scale && apart > APART_K
      ? [
          `${partName} ${asTyped(part)}, scale ${asTyped(scale)}: ${formatFigure(apart, { decimals: 1 })} K apart. Enter again to keep them.`,
        ]
      : []),
  ];
}

const asTyped = ({ text, unit, value }: Typed): string =>
  unit === '°C' ? `${text} °C` : `${text} ${unit}, ${formatFigure(value, { decimals: 1 })} °C`;
