import type { LimitsAt } from '../../../shared/plan/lookup.ts';

/** Lengths and temperatures are typed and shown in the units of the person; what is judged and kept is in the plan's. */

/** The units that a person has chosen. */
export interface Units {
  readonly lengthUnit: 'mm' | 'in';
  readonly temperatureUnit: '°C' | '°F';
}

/** mm in an inch, exact (NIST SP 811, B.8; the international inch of 1959). */
const MM_PER_INCH = 25.4;
/** Fahrenheit's degrees in a kelvin, exact (NIST SP 811, B.8). */
const F_PER_K = 9 / 5;
const F_AT_0_C = 32;
/** The coldest that anything can be, °C (SI Brochure, 2.3.1). */
export const ABSOLUTE_ZERO_C = -273.15;

/** More digits than anybody types, and fewer than the noise of binary fractions. */
const clean = (value: number): number => Number(value.toPrecision(15));

/** The unit in which a person types and reads what the plan has in `planUnit`. */
export function typingUnit(planUnit: string, { lengthUnit, temperatureUnit }: Units): string {
  if (planUnit === 'mm') return lengthUnit;
  if (planUnit === '°C') return temperatureUnit;
  return planUnit;
}

/** A figure typed in one unit, in the plan's unit. Units that have no other way of typing pass as they are. */
export function toPlanUnit(value: number, from: string, planUnit: string): number {
  if (from === 'in' && planUnit === 'mm') return clean(value * MM_PER_INCH);
  if (from === '°F' && planUnit === '°C') return clean((value - F_AT_0_C) / F_PER_K);
  return value;
}

/** An inch is coarser than a millimetre by as many places. */
const MORE_DECIMALS_IN_INCHES = 2;

/** A characteristic's figures in one unit, to be read. Nothing here is kept. */
export interface Shown {
  readonly unit: string;
  readonly decimals: number;
  /** Decimals of room and guard, which are compared with each other. */
  readonly finest: number;
  /** A value of the plan's unit. */
  value<V extends number | null>(value: V): V;
  /** A difference of two values, or an uncertainty. */
  span(value: number): number;
  limits(limits: LimitsAt): LimitsAt;
}

const FINEST = 2;

/** How figures of a characteristic read in one of the units in which they may be typed. */
export function shownIn({ unit: planUnit, decimals }: { unit: string; decimals: number }, unit: string): Shown {
  const more = planUnit === 'mm' && unit === 'in' ? MORE_DECIMALS_IN_INCHES : 0;
  const value = <V extends number | null>(v: V): V => (v === null ? v : (fromPlanUnit(v, planUnit, unit) as V));
  return {
    unit,
    decimals: decimals + more,
    finest: Math.max(FINEST, decimals) + more,
    value,
    span: (v) => fromPlanUnit(v, planUnit, unit) - fromPlanUnit(0, planUnit, unit),
    limits: ({ nominal, lower, upper }) => ({ nominal: value(nominal), lower: value(lower), upper: value(upper) }),
  };
}

function fromPlanUnit(value: number, planUnit: string, to: string): number {
  if (planUnit === 'mm' && to === 'in') return clean(value / MM_PER_INCH);
  if (planUnit === '°C' && to === '°F') return clean(value * F_PER_K + F_AT_0_C);
  return value;
}
