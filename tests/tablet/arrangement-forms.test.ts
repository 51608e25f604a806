import { describe, expect, it } from 'vitest';
import {
  type ArrangementTexts,
  emptyTexts,
  readArrangement,
  readEnd,
} from '../../src/tablet/screens/arrangements/arrangement-draft.ts';
import { hallTexts, readHall } from '../../src/tablet/screens/setup/read-hall.ts';
import { aboutWords, endWords } from '../../src/tablet/shared-screens/arrangement-words.ts';

const full: ArrangementTexts = {
  ...emptyTexts,
  kind: 'channel',
  subject: 'BD-3',
  what: ' alarm off ',
  reason: 'open circuit',
  owner: 'a'.repeat(32),
  operation: '4.1',
  date: '2026-03-02',
  time: '14:30',
};

describe('the form of an arrangement', () => {
  it('makes a line of what was typed, its end in the zone of the casting', () => {
    const line = readArrangement(full, 'Europe/Berlin');
    expect(line).toMatchObject({ what: 'alarm off', subject: { kind: 'channel', id: 'BD-3' }, endsWhen: null });
    // Central European time is UTC+1 in March before the last Sunday (IANA time zone database).
    expect(Date.parse((line as { endsAt: string }).endsAt)).toBe(Date.UTC(2026, 2, 2, 13, 30));
  });

  it('asks for one thing after the other, and never for an instrument that is not in the register', () => {
    const asks = (['kind', 'subject', 'what', 'reason', 'owner', 'time'] as const).map((key) => {
      const line = readArrangement({ ...full, [key]: '' }, 'Etc/UTC');
      return 'ask' in line ? line.ask : 'nothing';
    });
    expect(new Set(asks).size).toBe(asks.length);
    expect(asks).not.toContain('nothing');
    expect(readArrangement({ ...full, kind: 'instrument', subject: '' }, 'Etc/UTC')).toMatchObject({
      subject: { kind: 'instrument' },
    });
  });

  it('takes a time, a condition, or both as the end, and no day that is none', () => {
    expect(readEnd({ date: '', time: '', when: ' it is back ' }, 'Etc/UTC')).toEqual({
      endsAt: null,
      endsWhen: 'it is back',
    });
    expect(readEnd({ date: '2026-03-02', time: '06:00', when: 'x' }, 'Etc/UTC')).toMatchObject({ endsWhen: 'x' });
    expect(readEnd({ date: '2026-13-02', time: '06:00', when: '' }, 'Etc/UTC')).toHaveProperty('ask');
  });
});

describe('an arrangement in words', () => {
  const zone = { timeZone: 'Etc/UTC', dayOne: '2026-03-01' };
  const noon = Date.UTC(2026, 2, 2, 12);

  it('says when it ends, and how long ago it should have ended', () => {
    const at = { endsAt_ms: noon, endsWhen: 'the spare is in' };
    expect(endWords(zone, at, noon - 30 * 60_000)).toBe('ends 12:00, in 30 minutes, or when the spare is in');
    expect(endWords(zone, at, noon + 5 * 3_600_000)).toBe('should have ended 12:00, 5 h ago');
    expect(endWords(zone, at, noon + 24 * 3_600_000)).toBe('should have ended day 2, 12:00, 24 h ago');
    expect(endWords(zone, { ...at, endsAt_ms: null }, noon)).toBe('ends when the spare is in');
  });

  it('names the channel or the instrument', () => {
    expect(aboutWords({ kind: 'channel', id: 'BD-3' })).toBe('channel BD-3');
    expect(aboutWords({ kind: 'instrument' })).toBe('instrument');
    expect(aboutWords({ kind: 'other' })).toBe('');
  });
});

describe("the form of the hall's numbers", () => {
  it('leaves rows without a number out, and asks what a number is for', () => {
    const start = { ...hallTexts(null), site: 'Hall' };
    expect(readHall(start)).toEqual({ ask: 'Give at least one number.' });
    const rows = start.rows.map((row, i) => (i === 1 ? { ...row, number: ' ext. 7 ' } : row));
    expect(readHall({ ...start, rows })).toEqual({
      body: { site: 'Hall', numbers: [{ what: rows[1]!.what, number: 'ext. 7' }] },
    });
    expect(readHall({ ...start, rows: [{ what: '', number: '1' }] })).toEqual({ ask: 'Say what 1 is for.' });
    expect(readHall({ ...start, site: ' ' })).toEqual({ ask: 'Give the name of the site.' });
  });
});
