import { describe, expect, it } from 'vitest';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { isDate } from '../../src/tablet/app/time.ts';
import { roleName } from '../../src/tablet/app/words.ts';
import { calibrationState, dueAfter } from '../../src/tablet/screens/setup/calibration.ts';
import { type CrewMember, crewNeeded, crewWords } from '../../src/tablet/screens/setup/crew-needed.ts';
import { type InstrumentTexts, readInstrument } from '../../src/tablet/screens/setup/read-instrument.ts';
import { inGroups } from '../../src/tablet/shared-screens/fields/fingerprint.tsx';

const member = (id: string, ...roles: string[]): CrewMember => ({ id, roles, retired: false });

describe('crewNeeded', () => {
  const holds = [
    { id: 'H1', roles: ['crew-lead', 'quality'] },
    { id: 'H2', roles: ['crew-lead', 'process-engineer'] },
  ];
  it('names the roles that nobody has, and where they are asked for', () => {
    const needed = crewNeeded(holds, [member('a', 'crew-lead', 'keeper')]);
    expect(needed.roles).toEqual([
      { role: 'quality', holds: ['H1'] },
      { role: 'process-engineer', holds: ['H2'] },
    ]);
    expect(crewWords(needed, holds.length, roleName)).toBe(
      'Still needed for hold points: quality (for H1), process engineer (for H2).',
    );
  });
  it('sees that one person cannot stand for two roles of one hold point', () => {
    const needed = crewNeeded(holds, [member('a', 'crew-lead', 'quality'), member('b', 'process-engineer')]);
    expect(needed).toEqual({ roles: [], tooFew: ['H1'] });
    expect(crewWords(needed, holds.length, roleName)).toContain('H1');
  });
  it('is content with a different person for every role, whatever the order', () => {
    const crew = [member('a', 'crew-lead', 'quality'), member('b', 'crew-lead'), member('c', 'process-engineer')];
    expect(crewWords(crewNeeded(holds, crew), holds.length, roleName)).toBeNull();
    expect(crewWords(crewNeeded(holds, [...crew].reverse()), holds.length, roleName)).toBeNull();
  });
  it('does not count who has been retired', () => {
    expect(crewNeeded(holds, [{ ...member('a', 'quality'), retired: true }]).roles.map((r) => r.role)).toContain(
      'quality',
    );
  });
  it('lets no founder sign the built-in plan alone, with every role there is', () => {
    const { holds: real } = buildPlan(practiceDesign);
    const founder = member('a', ...new Set(real.flatMap((hold) => hold.roles)));
    expect(crewNeeded(real, [founder]).tooFew.length).toBeGreaterThan(0);
  });
});

describe('calibrationState', () => {
  const line = { calibratedOn: '2026-01-10', calibrationDue: '2026-07-10' };
  it('knows in, due soon and out, to the day', () => {
    expect(calibrationState(line, '2026-06-25').state).toBe('in');
    expect(calibrationState(line, '2026-06-26')).toEqual({ state: 'soon', words: 'due in 14 days' });
    expect(calibrationState(line, '2026-07-09').words).toBe('due in 1 day');
    expect(calibrationState(line, '2026-07-10')).toEqual({ state: 'soon', words: 'due today' });
    expect(calibrationState(line, '2026-07-11').state).toBe('out');
    expect(calibrationState(line, '2026-01-09').state).toBe('out');
  });
  it('adds an interval in months, ending inside a shorter month', () => {
    expect(dueAfter('2026-01-31', 1)).toBe('2026-02-28');
    expect(dueAfter('2024-02-29', 12)).toBe('2025-02-28');
    expect(dueAfter('', 12)).toBe('');
    expect(dueAfter('2026-01-31', null)).toBe('');
  });
});

describe('readInstrument', () => {
  const texts: InstrumentTexts = {
    number: ' G-07 ',
    name: '',
    class: 'RA',
    uncertainty: '0,12',
    expansion: '11.5',
    calibratedOn: '2026-01-10',
    calibrationDue: '2027-01-10',
    foundRight: '',
    words: '',
  };
  const context = { today: '2026-03-01', taken: [], unit: 'mm', before: null };
  it('makes a line of the register', () => {
    expect(readInstrument(texts, context)).toEqual({
      line: {
        instrument: 'G-07',
        class: 'RA',
        name: 'G-07',
        unit: 'mm',
        standardUncertainty: 0.12,
        expansion_per_K: 11.5e-6,
        calibratedOn: '2026-01-10',
        calibrationDue: '2027-01-10',
      },
    });
  });
  const errorsOf = (change: Partial<InstrumentTexts>, more = {}): string[] => {
    const read = readInstrument({ ...texts, ...change }, { ...context, ...more });
    return 'errors' in read ? Object.keys(read.errors) : [];
  };
  it('names the field of every fault', () => {
    expect(errorsOf({ number: '' })).toEqual(['number']);
    expect(errorsOf({}, { taken: ['G-07'] })).toEqual(['number']);
    expect(errorsOf({}, { unit: null })).toEqual(['class']);
    expect(errorsOf({ uncertainty: '-1' })).toEqual(['uncertainty']);
    expect(errorsOf({ uncertainty: '1e999' })).toEqual(['uncertainty']);
    expect(errorsOf({ expansion: 'x' })).toEqual(['expansion']);
    expect(errorsOf({ calibratedOn: '2026-03-02' })).toEqual(['calibratedOn']);
    expect(errorsOf({ calibratedOn: '2026-02-30' })).toEqual(['calibratedOn']);
    expect(errorsOf({ calibrationDue: '2026-01-10' })).toEqual(['calibrationDue']);
  });
  it('asks how a new calibration found the instrument', () => {
    expect(errorsOf({}, { before: '2025-01-10' })).toEqual(['foundRight']);
    const read = readInstrument({ ...texts, foundRight: 'no' }, { ...context, before: '2025-01-10' });
    expect('line' in read && read.line.foundRight).toBe(false);
    expect(errorsOf({}, { before: '2026-01-10' })).toEqual([]);
  });
});

it('knows a date of the calendar from a text', () => {
  expect(isDate('2024-02-29')).toBe(true);
  expect(['2026-02-29', '2026-13-01', '1.3.2026', ''].filter(isDate)).toEqual([]);
});

it('parts a fingerprint in groups of four', () => {
  expect(inGroups('0123456789abcdef0123456789abcdef')).toHaveLength(8);
});
