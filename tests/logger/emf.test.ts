import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { thermocouple } from '../../shared/calculations/thermocouple.ts';
import { canonicalJson, sha256Hex } from '../../shared/logbook/canonical.ts';
import { EmfReader } from '../../shared/logger/emf-reader.ts';
import { FileFault } from '../../shared/logger/file-fault.ts';
import { lookAt } from '../../shared/logger/look.ts';
import { type LoggerMapping, loggerMappingSchema, thermocoupleLetters } from '../../shared/logger/mapping.ts';
import { TableReader } from '../../shared/logger/table-reader.ts';
import { Taking } from '../../shared/logger/taking.ts';
import { samplesId } from '../../src/tablet/storage/logger/kept-files.ts';

const mapping = (columns: LoggerMapping['columns'], emfColumns?: LoggerMapping['emfColumns']): LoggerMapping => ({
  encoding: 'utf-8',
  delimiter: ';',
  decimalMark: ',',
  headerLine: 1,
  time: { column: 0, order: 'ymd', zone: 'own offset' },
  columns,
  ...(emfColumns ? { emfColumns } : {}),
});

function take(text: string, of: LoggerMapping) {
  const taking = new Taking(of, Date.UTC(2026, 5, 1));
  const table = new TableReader(of.delimiter);
  taking.push([...table.push(text), ...table.end()]);
  return taking.finish();
}

describe('emf in a logger file', () => {
  // NIST ITS-90 Thermocouple Database (SRD 60), tables of types S, K and N: emf in mV against 0 °C.
  it.each([
    ['S', 1000, 9.587],
    ['S', 25, 0.143],
    ['K', 1000, 41.276],
    ['N', 600, 20.613],
  ] as const)('type %s reads %d °C from the published emf', (type, celsius, emf_mV) => {
    expect(new EmfReader(type).read(emf_mV, 0)).toBeCloseTo(celsius, type === 'S' && celsius === 25 ? 0 : 1);
  });

  it('is the calculation `thermocouple` to a hundredth of a kelvin, whatever the type and its junction', () => {
    const readers = new Map(thermocoupleLetters.map((type) => [type, new EmfReader(type)]));
    fc.assert(
      fc.property(
        fc.constantFrom(...thermocoupleLetters),
        fc.double({ min: 260, max: 395, noNaN: true }),
        fc.double({ min: 5, max: 60, noNaN: true }),
        (type, temperature_C, reference_junction_C) => {
          const { emf_mV } = thermocouple.compute({ type, temperature_C, reference_junction_C });
          expect(Math.abs(readers.get(type)!.read(emf_mV!, reference_junction_C)! - temperature_C)).toBeLessThan(0.01);
        },
      ),
      { seed: 29, numRuns: 80 },
    );
    expect(readers.get('S')!.read(99, 0)).toBeNull();
    expect(readers.get('B')!.read(0, 20)).toBeNull();
    expect(readers.get('T')!.read(1, 900)).toBeNull();
  });

  it('is that, too, half-way between the entries of its table, over all that a furnace channel can read', () => {
    for (const type of thermocoupleLetters) {
      const reader = new EmfReader(type);
      // Type B turns below; the ends are those of IEC 60584-1.
      const [from, to] = { B: [250, 1820], E: [-60, 1000], J: [-60, 1200], K: [-60, 1372], N: [-60, 1300] }[
        type as string
      ] ?? [-50, type === 'T' ? 400 : 1768];
      for (let t = from! + 0.5; t < to!; t += 1) {
        const { emf_mV } = thermocouple.compute({ type, temperature_C: t, reference_junction_C: 0 });
        const off = Math.abs(reader.read(emf_mV!, 0)! - t);
        if (!(off < 0.01)) expect.fail(`type ${type} at ${t} °C is ${off} K off`);
      }
    }
  });

  it('is turned with a junction of its own, and with one that the file reads', () => {
    const text = [
      'time;CR-1 [mV];CR-2 [mV];RJ [°F]',
      '2026-03-01T00:00Z;9,444;9,444;77',
      '2026-03-01T00:01Z;9,444;9,444;',
      '2026-03-01T00:02Z;99;9,444;77',
    ].join('\n');
    const { samples, report } = take(
      text,
      mapping(
        [],
        [
          { column: 1, name: 'CR-1 [mV]', channel: 'CR-1', emf: { type: 'S', junction: { celsius: 25 } } },
          {
            column: 2,
            name: 'CR-2 [mV]',
            channel: 'CR-2',
            emf: { type: 'S', junction: { column: 3, unit: '°F' } },
          },
        ],
      ),
    );
    const [one, two] = samples.channels.map((c) => [...c.values]);
    // 9.587 mV at 1000 °C less 0.143 mV at 25 °C, NIST SRD 60.
    expect(one![0]).toBeCloseTo(1000, 0);
    expect(two![0]).toBeCloseTo(one![0]!, 1);
    expect([one![2], two![1]]).toEqual([Number.NaN, Number.NaN]);
    expect(report.refused.map((r) => [r.reason, r.column, r.count]).sort()).toEqual([
      ['no-junction', 'CR-2 [mV]', 1],
      ['no-temperature', 'CR-1 [mV]', 1],
    ]);
  });

  it('is left out, not drawn as degrees, by a version that knows only the plain columns', () => {
    const text = 'time;CR-1 [mV];BP-0\n2026-03-01T00:00Z;9,444;600\n';
    const of = mapping(
      [{ column: 2, name: 'BP-0', channel: 'BP-0', unit: '°C' }],
      [{ column: 1, name: 'CR-1 [mV]', channel: 'CR-1', emf: { type: 'S', junction: { celsius: 25 } } }],
    );
    const { emfColumns: _, ...known } = loggerMappingSchema.parse(of);
    expect(take(text, known).samples.channels.map((c) => [c.channel, ...c.values])).toEqual([['BP-0', 600]]);
    const [plain, emf] = take(text, loggerMappingSchema.parse(of)).samples.channels;
    expect([plain!.channel, emf!.channel]).toEqual(['BP-0', 'CR-1']);
    // 9.587 mV at 1000 °C less 0.143 mV at 25 °C, type S, NIST SRD 60.
    expect(emf!.values[0]).toBeCloseTo(1000, 0);
    // What such a version kept of the file does not pass for the whole.
    expect(samplesId('ab', of)).not.toBe(sha256Hex(canonicalJson({ file: 'ab', mapping: of })).slice(0, 32));
    expect(samplesId('ab', known)).toBe(sha256Hex(canonicalJson({ file: 'ab', mapping: known })).slice(0, 32));
  });

  it('is not taken while nobody said which thermocouple it is', () => {
    const unsaid = mapping([{ column: 1, name: 'a', channel: 'CR-1', unit: 'mV' }]);
    expect(() => new Taking(unsaid, 0)).toThrow(FileFault);
  });

  it('is seen from the name of its column', () => {
    const look = lookAt('time;CR-1 [mV]\n2026-03-01T00:00Z;9,4\n', 'utf-8', ['CR-1']);
    expect(look.columns).toEqual([{ column: 1, name: 'CR-1 [mV]', channel: 'CR-1', unit: 'mV', figures: 1 }]);
  });
});

describe('the delimiter', () => {
  const text = 'time;a,b;c\n2026-03-01T00:00Z;1,5;2\n2026-03-01T00:01Z;1,6;3\n';

  it('is the one that somebody says, where the file can be parted so', () => {
    expect(lookAt(text, 'utf-8', []).delimiter).toBe(';');
    expect(() => lookAt(text, 'utf-8', [], '\t')).toThrow(FileFault);
    const bar = lookAt('time|a;b\n2026-03-01T00:00Z|1;2\n', 'utf-8', [], '|');
    expect([bar.delimiter, bar.columns.map((c) => c.name)]).toEqual(['|', ['a;b']]);
  });
});
