import { thermocouple } from '../calculations/thermocouple.ts';
import { type ThermocoupleType, thermocoupleTypes } from '../calculations/thermocouple-coefficients.ts';
import type { thermocoupleLetters } from './mapping.ts';

/** Between entries of the table the reference function is straight to a hundredth of a kelvin, from −60 °C up. */
const STEP_K = 1;
const LEAST_C = -270;
const MOST_C = 1820;

/** The letters of a mapping are those of the calculation. */
thermocoupleTypes satisfies readonly (typeof thermocoupleLetters)[number][];

/**
 * Temperatures from the emf of one type of thermocouple, for many values: a table of the calculation `thermocouple`
 * (IEC 60584-1), read between its entries.
 */
export class EmfReader {
  private readonly from_C: number;
  /** emf against 0 °C at each step, mV. */
  private readonly table: Float64Array;
  /** The first entry from which one emf is one temperature: type B turns. */
  private readonly first: number;

  constructor(type: ThermocoupleType) {
    const known: number[] = [];
    for (let t = LEAST_C; t <= MOST_C; t += STEP_K) if (emfAt(type, t) !== null) known.push(t);
    this.from_C = known[0]!;
    this.table = Float64Array.from(known, (t) => emfAt(type, t)!);
    this.first = known.findIndex((t) => isOne(type, emfAt(type, t)!));
  }

  /** °C at the measuring junction; null where the type has no one temperature for it. */
  read(emf_mV: number, junction_C: number): number | null {
    const { table, first, from_C } = this;
    const at = (junction_C - from_C) / STEP_K;
    if (!(at >= 0 && at <= table.length - 1)) return null;
    const whole = Math.min(Math.floor(at), table.length - 2);
    const total = emf_mV + table[whole]! + (at - whole) * (table[whole + 1]! - table[whole]!);
    if (!(total >= table[first]! && total <= table.at(-1)!)) return null;
    let [low, high] = [first, table.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (table[middle]! <= total) low = middle;
      else high = middle;
    }
    return from_C + STEP_K * (low + (total - table[low]!) / (table[high]! - table[low]!));
  }
}

/** emf against 0 °C; null outside the range of the type. */
function emfAt(type: ThermocoupleType, temperature_C: number): number | null {
  try {
    return thermocouple.compute({ type, temperature_C, reference_junction_C: 0 }).emf_mV!;
  } catch {
    return null;
  }
}

function isOne(type: ThermocoupleType, emf_mV: number): boolean {
  try {
    thermocouple.compute({ type, emf_mV, reference_junction_C: 0 });
    return true;
  } catch {
    return false;
  }
}
