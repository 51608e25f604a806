import type { Settings } from './settings.ts';

/** Lengths and temperatures may be typed in the tablet's own unit; what is judged and kept is in the plan's. */

/** mm in an inch, exact (NIST SP 811, B.8; the international inch of 1959). */
const MM_PER_INCH = 25.4;
/** Fahrenheit's degrees in a kelvin, exact (NIST SP 811, B.8). */
const F_PER_K = 9 / 5;
const F_AT_0_C = 32;
/** The coldest that anything can be, °C (SI Brochure, 2.3.1). */
export const ABSOLUTE_ZERO_C = -273.15;

/** More digits than anybody types, and fewer than the noise of binary fractions. */
const clean = (value: number): number => Number(value.toPrecision(15));

/** The unit in which a person at this tablet types what the plan has in `planUnit`. */
export function typingUnit(planUnit: string, { lengthUnit, temperatureUnit }: Settings): string {
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
