import { describe, expect, it } from 'vitest';
import { lookAt } from '../../shared/logger/look.ts';
import { Taking } from '../../shared/logger/taking.ts';
import { type MappingDraft, proposed, readMapping } from '../../src/tablet/screens/heat/mapping-draft.ts';

const look = (heading: string, junction: string) =>
  lookAt(`time;CR-1 [mV];${heading}\n2026-03-01T00:00Z;9.444;${junction}\n`, 'utf-8', ['CR-1']);

const emf = { channel: 'CR-1', unit: 'mV', type: 'S', junction: '2' };
const draft = (said: Partial<MappingDraft> = {}): MappingDraft => ({
  columnsOf: '',
  decimalMark: '.',
  order: 'ymd',
  zone: 'own offset',
  channels: { 1: emf },
  ...said,
});

/** What the first row is read as, °C. */
function read(seen: ReturnType<typeof look>, said: MappingDraft): number | string {
  const mapped = readMapping(seen, said);
  if ('ask' in mapped) return mapped.ask;
  const taking = new Taking(mapped.mapping, Date.UTC(2026, 5, 1));
  taking.push(seen.rows);
  return taking.finish().samples.channels.find((c) => c.channel === 'CR-1')!.values[0]!;
}

describe('the reference junction of an emf', () => {
  // 9.587 mV at 1000 °C less 0.143 mV at 25 °C, type S, NIST SRD 60.
  it.each([
    ['RJ [°C]', '25'],
    ['RJ [°F]', '77'],
    ['RJ [K]', '298.15'],
  ])('is read in the unit that the heading %s tells, also where it is no channel', (heading, cell) => {
    expect(read(look(heading, cell), draft())).toBeCloseTo(1000, 0);
  });

  it('is asked for its unit where nothing tells it', () => {
    const seen = look('RJ', '77');
    expect(read(seen, draft())).toBe('Say in which unit the reference junction of CR-1 [mV] is read.');
    expect(read(seen, draft({ channels: { 1: { ...emf, junctionUnit: '°F' } } }))).toBeCloseTo(1000, 0);
  });

  it('is read in the unit of its channel where it is one, and in degrees only', () => {
    const channels = { 1: emf, 2: { channel: 'RJ', unit: '°F' } };
    expect(read(look('RJ', '77'), draft({ channels }))).toBeCloseTo(1000, 0);
    expect(read(look('RJ [mV]', '1'), draft())).toBe('The reference junction of CR-1 [mV] must be read in degrees.');
  });

  it('stands as it was said for the next file of the same columns', () => {
    const seen = look('RJ', '77');
    const said = { ...proposed(seen, draft(), []), channels: { 1: { ...emf, junctionUnit: '°F' } } };
    expect(read(seen, proposed(seen, said, []))).toBeCloseTo(1000, 0);
  });
});
