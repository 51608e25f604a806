import { describe, expect, it } from 'vitest';
import type { Body } from '../../shared/logbook/kinds.ts';
import { judgeAgain, judgeReading } from '../../shared/logbook/state/judge-reading.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { characteristicById, limitsAt } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { readFigure } from '../../src/tablet/app/read-figure.ts';
import { shownIn, toPlanUnit, typingUnit } from '../../src/tablet/app/units.ts';
import { couldBeComplete, readReading } from '../../src/tablet/screens/survey/read-typed.ts';
import { verdictSentence } from '../../src/tablet/screens/survey/verdict-sentence.ts';
import { instrumentSources } from '../../src/tablet/shared-screens/worked-kept.ts';
import { deskCommand, workingOf } from '../../src/tablet/shared-screens/working-of.ts';

const plan = buildPlan(practiceDesign);
const diameter = characteristicById(plan, 'tub-diameter-20')!;
const count = characteristicById(plan, 'data-gaps')!;
const station = '7.5@40';
const limits = limitsAt(plan, diameter.id, '5.1', station);

const arm: Body<'instrument'> = {
  instrument: 'RA-01',
  class: 'RA',
  name: 'Radius arm',
  unit: 'mm',
  standardUncertainty: 0.15,
  expansion_per_K: 11.5e-6,
  calibratedOn: '2026-03-01',
  calibrationDue: '2027-03-01',
};
const judged = (read: number, instrument: Body<'instrument'> | null = arm) =>
  judgeReading({
    plan,
    operation: '5.1',
    characteristic: diameter,
    station,
    read,
    temperatures: { part_C: 24.2, scale_C: 22.6 },
    instrument,
  });

describe('units', () => {
  it.each([
    // NIST SP 811 (2008), B.8: 1 in = 25.4 mm and t/°C = (t/°F − 32)/1.8, both exact.
    [1, 'in', 'mm', 25.4],
    [126.667, 'in', 'mm', 3217.3418],
    [32, '°F', '°C', 0],
    [212, '°F', '°C', 100],
    [-40, '°F', '°C', -40],
    [-459.67, '°F', '°C', -273.15],
    [12.5, 'kN', 'kN', 12.5],
  ])('%d %s in %s is %d', (value, from, to, expected) => {
    expect(toPlanUnit(value, from, to)).toBe(expected);
  });

  it('shows in inches with two more decimals, and takes differences of temperatures without the zero', () => {
    const length = shownIn({ unit: 'mm', decimals: 2 }, 'in');
    expect(length).toMatchObject({ unit: 'in', decimals: 4, finest: 4 });
    // NIST SP 811 (2008), B.8: 25.4 mm to the inch; 1.8 °F to the kelvin, 32 °F at 0 °C.
    expect(length.value(3218.18)).toBeCloseTo(126.7, 12);
    expect(length.limits({ nominal: 3217.36, lower: null, upper: 25.4 })).toEqual({
      nominal: expect.closeTo(126.667717, 6),
      lower: null,
      upper: 1,
    });
    const temperature = shownIn({ unit: '°C', decimals: 1 }, '°F');
    expect(temperature).toMatchObject({ unit: '°F', decimals: 1 });
    expect([temperature.value(20), temperature.span(10), temperature.value(null)]).toEqual([68, 18, null]);
    const angle = shownIn({ unit: 'mm/m', decimals: 3 }, 'mm/m');
    expect([angle.value(0.05), angle.span(0.05), angle.decimals]).toEqual([0.05, 0.05, 3]);
  });

  it.each([
    ['mm', 'in'],
    ['°C', '°F'],
  ])('shows what was typed: %s to %s and back', (planUnit, unit) => {
    for (const value of [-40, 0, 0.01, 24.3, 3217.36, 1183])
      expect(toPlanUnit(shownIn({ unit: planUnit, decimals: 2 }, unit).value(value), unit, planUnit)).toBeCloseTo(
        value,
        9,
      );
  });

  it('lets a person choose for lengths and temperatures only', () => {
    const inches = { lengthUnit: 'in', temperatureUnit: '°F' } as Parameters<typeof typingUnit>[1];
    expect(['mm', '°C', 'K', 'mm/m'].map((unit) => typingUnit(unit, inches))).toEqual(['in', '°F', 'K', 'mm/m']);
  });
});

describe('what was typed', () => {
  it.each([
    ['', 'Nothing is typed'],
    ['  ', 'Nothing is typed'],
    ['12a', 'is not a figure'],
    ['abc', 'is not a figure'],
    ['3.218,96', 'two decimal marks'],
    ['3.218.96', 'two decimal marks'],
    ['1e999', 'not a plain figure'],
    ['9'.repeat(101), 'too long'],
    ['Infinity', 'is not a figure'],
  ])('%j is no measurement', (text, words) => {
    expect(readFigure(text, 'mm', 'mm')).toEqual({ fault: expect.stringContaining(words) });
  });

  it.each([
    ['1608.37mm', 'mm', '1608.37', 'mm', 1608.37],
    ['1608,37 mm', 'in', '1608,37', 'mm', 1608.37],
    ['63.3215in', 'mm', '63.3215', 'in', 1608.3661],
    ['63.3215"', 'mm', '63.3215', 'in', 1608.3661],
  ])('%j has its own unit behind it, whatever unit is typed in', (text, typedIn, figure, unit, value) => {
    expect(readFigure(text, typedIn, 'mm')).toEqual({ typed: { text: figure, unit, value } });
  });

  it('says so where the unit is of something else', () => {
    expect(readFigure('12.5 kg', 'mm', 'mm')).toEqual({ fault: '“12.5 kg” is not in mm, in which this is read.' });
  });

  it.each([
    ['3218,96', 3218.96],
    ['3218.96', 3218.96],
    ['3 218.96', 3218.96],
    ['−0.5', -0.5],
    ['.5', 0.5],
  ])('%j is %d', (text, value) => {
    expect(readFigure(text, 'mm', 'mm')).toEqual({ typed: { text, unit: 'mm', value } });
  });

  it('knows absolute zero in both units (SI Brochure, 2.3.1)', () => {
    expect(readFigure('-273.15', '°C', '°C')).toHaveProperty('typed');
    expect(readFigure('-273.16', '°C', '°C')).toEqual({ fault: expect.stringContaining('below absolute zero') });
    expect(readFigure('-459.67', '°F', '°C')).toHaveProperty('typed');
    expect(readFigure('-459.68', '°F', '°C')).toEqual({ fault: expect.stringContaining('below absolute zero') });
  });

  it('refuses what cannot be, and nothing for being outside', () => {
    expect(readReading('-3217.4', 'mm', diameter, limits)).toEqual({
      fault: expect.stringContaining('never negative'),
    });
    expect(readReading('0', 'mm', diameter, limits)).toHaveProperty('fault');
    expect(readReading('2.5', 'gaps', count, limitsAt(plan, count.id, '3.3', 'one'))).toHaveProperty('fault');
    expect(readReading('9999', 'mm', diameter, limits)).toHaveProperty('typed');
  });

  it('waits with the verdict until the figure could be complete', () => {
    const complete = (text: string) => couldBeComplete(text, Number(text), limits, 2);
    expect(['3', '32', '321', '321.8'].map(complete)).toEqual([false, false, false, false]);
    expect(['3218', '3218.9'].map(complete)).toEqual([true, true]);
    const small = { nominal: 0, lower: -1.5, upper: 1.5 };
    expect(couldBeComplete('1', 1, small, 2)).toBe(false);
    expect(couldBeComplete('1.2', 1.2, small, 2)).toBe(true);
  });
});

describe('a diameter brought to 20 °C and judged', () => {
  const part = 1 + diameter.at20!.part_expansion_per_K * 4.2;
  const scale = 1 + 11.5e-6 * 2.6;

  it('agrees with ISO 1 by logarithms', () => {
    const expected = 3218.6 * Math.exp(Math.log1p(11.5e-6 * 2.6) - Math.log1p(part - 1));
    expect(judged(3218.6).value).toBeCloseTo(expected, 9);
  });

  it('has the uncertainty that numerical derivatives give (JCGM 100:2008, 5.1.3 note 2)', () => {
    const at = (d: { L?: number; tp?: number; ts?: number; ap?: number; as?: number }) =>
      ((3218.6 + (d.L ?? 0)) * (1 + (11.5e-6 + (d.as ?? 0)) * (2.6 + (d.ts ?? 0)))) /
      (1 + (diameter.at20!.part_expansion_per_K + (d.ap ?? 0)) * (4.2 + (d.tp ?? 0)));
    const half = (key: 'L' | 'tp' | 'ts' | 'ap' | 'as', u: number) => (at({ [key]: u }) - at({ [key]: -u })) / 2;
    const combined = (u_length_mm: number) =>
      Math.hypot(
        half('L', u_length_mm),
        half('tp', 0.15),
        half('ts', 0.15),
        half('ap', diameter.at20!.u_part_expansion_per_K),
        half('as', 1e-6),
      );
    // The characteristic's covers instrument and method together: the arm's own counts only where it is greater.
    expect(diameter.uncertainty).toBeGreaterThan(arm.standardUncertainty);
    const u = combined(diameter.uncertainty!);
    expect(judged(3218.6).standardUncertainty).toBeCloseTo(u, 9);
    expect(judged(3218.6).guard).toBeCloseTo(1.65 * u, 9);
    const worse = { ...arm, standardUncertainty: 0.4 };
    expect(judged(3218.6, worse).standardUncertainty).toBeCloseTo(combined(0.4), 9);
    expect(judged(3218.6, { ...worse, unit: 'kg' }).standardUncertainty).toBeCloseTo(u, 9);
  });

  it('gives each verdict on its side of the guard (ISO 14253-1)', () => {
    const u = judged(3218).standardUncertainty;
    const readFor = (value: number) => (value * part) / scale;
    const at = (value: number) => judged(readFor(value)).verdict;
    expect(at(limits.upper! - 1.65 * u - 0.01)).toBe('within');
    expect(at(limits.upper! - 1.65 * u + 0.01)).toBe('not-proven');
    expect(at(limits.upper! + 1.65 * u - 0.01)).toBe('not-proven');
    expect(at(limits.upper! + 1.65 * u + 0.01)).toBe('outside');
    expect(at(limits.lower! - 1.65 * u - 0.01)).toBe('outside');
  });

  it('takes class and characteristic where no instrument is named', () => {
    const { length } = judged(3218.6, null);
    expect(length).toMatchObject({ scale_expansion_per_K: 11.5e-6, u_length_mm: diameter.uncertainty });
  });

  it('says what the verdict means', () => {
    const words = (room: number, verdict: 'within' | 'not-proven' | 'outside') =>
      verdictSentence(
        { value: 3218.86 - room, limits: { nominal: 3217.36, lower: 3215.86, upper: 3218.86 }, guard: 0.34, verdict },
        2,
      );
    expect(words(0.22, 'not-proven')).toBe(
      'Inside the limit by 0.22, guard is 0.34. A better or repeated reading may prove it.',
    );
    expect(words(0.9, 'within')).toBe('Inside the limit by 0.90, guard is 0.34.');
    expect(words(-0.5, 'outside')).toContain('Past the upper limit by 0.50');
  });

  it('shows its working with the figures that went in, and a command that gives the same', () => {
    const judgement = judged(3218.6);
    const lines = workingOf({ ...judgement, unit: 'mm', sources: { α_s: 'register, RA-01' } });
    const line = (symbol: string) => lines.find((l) => l.symbol === symbol);
    expect(line('L')).toMatchObject({ value: '3218.6', unit: 'mm' });
    expect(line('α_s')).toMatchObject({ value: '11.5', unit: '×10^-6/K', source: 'register, RA-01' });
    expect(Number(line('L_20')!.value)).toBeCloseTo(judgement.value, 5);
    expect(line('verdict')!.value).toBe('not proven');
    const command = deskCommand(judgement.length!);
    expect(JSON.parse(/'(.*)'/.exec(command)![1]!)).toEqual(judgement.length);
    expect(command).toContain('npm run --silent calc -- length-at-20');
  });

  it('names the source of the uncertainty that ruled: the greater of plan and register', () => {
    const source = (instrument: typeof arm | null) =>
      instrumentSources(
        instrument?.instrument ?? null,
        judged(3218.6, instrument).length!.u_length_mm!,
        diameter.uncertainty,
      )['u(L)'];
    expect(source(arm)).toBe('plan');
    expect(source({ ...arm, standardUncertainty: 0.4 })).toBe('register, RA-01');
    expect(source(null)).toBe('plan');
  });

  it('gives the same again from what is kept', () => {
    const { value, verdict, length, standardUncertainty, guard } = judged(3218.6);
    const { length_mm: _read, ...numbers } = length!;
    const body: Body<'reading'> = {
      operation: '5.1',
      characteristic: diameter.id,
      station,
      typed: { text: '3218.60', unit: 'mm', value: 3218.6 },
      conditions: Object.fromEntries(
        Object.entries(numbers as Record<string, number>).map(([key, v]) => [
          key,
          { text: String(v), unit: '', value: v },
        ]),
      ),
      value,
      limits,
      standardUncertainty,
      guard,
      verdict,
      plan: '0'.repeat(64),
      calculations: {},
      instrument: null,
      observer: '0'.repeat(32),
      way: 'keypad',
    };
    expect(judgeAgain(plan, body)).toEqual({ value, verdict });
    const warmer = {
      ...body,
      conditions: { ...body.conditions, part_temperature_C: { text: '60', unit: '°C', value: 60 } },
    };
    expect(judgeAgain(plan, warmer).value).toBeLessThan(value - 0.5);
  });
});
