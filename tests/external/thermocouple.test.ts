import { describe, expect, it } from 'vitest';
import { thermocouple } from '../../shared/calculations/thermocouple.ts';
import {
  referenceFunctions,
  type ThermocoupleType,
  thermocoupleTypes,
} from '../../shared/calculations/thermocouple-coefficients.ts';
import { describeOutsideChecks, errorOf, publishedData, resultOf } from './outside-checks.ts';

const { tables } = publishedData<{ tables: Record<string, [number, number][]> }>('thermocouple-tables');
const emf = (type: string, temperature_C: number) => resultOf(thermocouple, { type, temperature_C }).emf_mV as number;
const temperature = (type: string, emf_mV: number) => resultOf(thermocouple, { type, emf_mV }).temperature_C as number;

describeOutsideChecks(thermocouple);

describe('thermocouple', () => {
  // NIST SRD 60 (ITS-90, NIST Monograph 175), files type_b.tab, type_e.tab, type_j.tab, type_n.tab, type_t.tab.
  it.each(Object.entries(tables))('type %s keeps to the NIST table every 10 °C', (type, rows) => {
    for (const [t, published] of rows) expect(Math.abs(emf(type, t) - published), `${t} °C`).toBeLessThan(0.00051);
  });

  it.each(thermocoupleTypes)('type %s goes there and back within 0.001 °C over its whole range', (type) => {
    const segments = referenceFunctions[type];
    const from = type === 'B' ? 250 : (segments[0]?.from_C as number);
    const to = segments.at(-1)?.to_C as number;
    for (let k = 0; k <= 2000; k++) {
      const t = from + ((to - from) * k) / 2000;
      expect(Math.abs(temperature(type, emf(type, t)) - t), `${t} °C`).toBeLessThan(0.001);
    }
  });

  it.each(thermocoupleTypes)('type %s is joined without a step of more than 0.1 µV, and 0 at 0 °C', (type) => {
    const segments = referenceFunctions[type];
    for (const join of segments.slice(1).map((s) => s.from_C)) {
      expect(Math.abs(emf(type, join) - emf(type, join + 1e-9))).toBeLessThan(1e-4);
    }
    expect(emf(type, 0)).toBe(0);
  });

  it('adds emfs, never temperatures, for a warm reference junction', () => {
    for (const type of ['K', 'S', 'T'] as ThermocoupleType[]) {
      const warm = resultOf(thermocouple, { type, temperature_C: 300, reference_junction_C: 25 }).emf_mV as number;
      expect(warm).toBeCloseTo(emf(type, 300) - emf(type, 25), 12);
      expect(resultOf(thermocouple, { type, emf_mV: warm, reference_junction_C: 25 }).temperature_C).toBeCloseTo(
        300,
        6,
      );
    }
  });

  it('takes the published emf at both ends of a range although it is rounded', () => {
    // NIST SRD 60: S 18.693 mV at 1768.1 °C, E -9.835 mV at -270 °C.
    expect(Math.abs(temperature('S', 18.693) - 1768.1)).toBeLessThan(0.1);
    expect(temperature('E', -9.835)).toBe(-270);
  });

  it('gives the derived figures of the practice blank', () => {
    expect(emf('S', 560)).toBeCloseTo(4.833, 3);
    expect(emf('S', 1160)).toBeCloseTo(11.471, 3);
    expect(emf('S', 1180)).toBeCloseTo(11.71, 3);
    expect(emf('K', 560)).toBeCloseTo(23.203, 3);
  });

  it.each([
    [{ type: 'S' }, '', 'needs exactly one of emf_mV and temperature_C'],
    [{ type: 'S', emf_mV: 1, temperature_C: 100 }, '', 'needs exactly one of emf_mV and temperature_C'],
    [{ type: 'X', emf_mV: 1 }, 'type', 'must be one of B, E, J, K, N, R, S, T'],
    [{ type: 'S', temperature_C: 1769 }, 'temperature_C', 'must lie within -50 to 1768.1 °C for type S'],
    [
      { type: 'B', temperature_C: 300, reference_junction_C: -1 },
      'reference_junction_C',
      'must lie within 0 to 1820 °C for type B',
    ],
    [{ type: 'K', temperature_C: -300 }, 'temperature_C', 'is below absolute zero (-273.15 °C)'],
    [
      { type: 'B', emf_mV: 0.1 },
      'emf_mV',
      'with the reference junction comes to 0.1 mV against 0 °C; type B gives a temperature for 0.291 to 13.820 mV (250 to 1820 °C)',
    ],
  ])('refuses %j', (input, path, message) => {
    expect(errorOf(thermocouple, input)).toEqual({ path, message });
  });
});
