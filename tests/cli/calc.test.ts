import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { calculations } from '../../shared/calculations/registry.ts';
import { inputMaker, seeded } from '../calculations/random-input.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Ran {
  status: number | null;
  stdout: string;
  stderr: string;
}

/** Runs a program in the project with a text on standard input. */
function run(program: string, words: string[], input: string | Uint8Array): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, words, { cwd: root });
    let stdout = '';
    let stderr = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      stdout += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text;
    });
    child.on('error', reject);
    child.on('close', (status) => resolve({ status, stdout, stderr }));
    child.stdin.on('error', () => undefined);
    child.stdin.end(input);
  });
}

/** The desk command as `npm run calc` starts it, less npm itself. */
async function desk(words: string[], input: string | Uint8Array = '') {
  const ran = await run(process.execPath, ['node_modules/tsx/dist/cli.mjs', 'src/cli/calc.ts', ...words], input);
  expect(ran.stderr).toBe('');
  expect(ran.stdout.endsWith('\n')).toBe(true);
  return { status: ran.status, json: JSON.parse(ran.stdout) };
}

const band = {
  inner_diameter_mm: 1000,
  band_expansion_per_K: 15e-6,
  wall_expansion_per_K: 5e-6,
  temperature_C: 520,
};

describe('the desk command', { timeout: 60_000 }, () => {
  it('runs through npm and prints nothing but JSON', async () => {
    const ran = await run('npm', ['run', '--silent', 'calc', '--', 'band-mismatch'], JSON.stringify(band));
    expect(ran.status).toBe(0);
    expect(JSON.parse(ran.stdout).result.gap_mm).toBeCloseTo(5, 12);
  });

  it('lists every calculation with its inputs and outputs, optional ones too', async () => {
    const { status, json } = await desk(['--list']);
    expect(status).toBe(0);
    expect(json.map((c: { name: string }) => c.name)).toEqual(calculations.map((c) => c.name));
    const slot = json.find((c: { name: string }) => c.name === 'slot-fill');
    expect(slot.title).toBe('Filling of a slot');
    expect(slot.inputs.gap_mm).toEqual({ optional: false, type: 'number', exclusiveMinimum: 0 });
    expect(slot.inputs.head_mm).toMatchObject({ optional: true, default: 0 });
    expect(slot.outputs.fill_time_h).toEqual({ optional: false, type: 'number' });
    const couple = json.find((c: { name: string }) => c.name === 'thermocouple');
    expect(couple.inputs.type.enum).toEqual(['B', 'E', 'J', 'K', 'N', 'R', 'S', 'T']);
    for (const c of json) expect(Object.keys(c.inputs).length * Object.keys(c.outputs).length).toBeGreaterThan(0);
  });

  it('answers one object with its result and its working', async () => {
    const { status, json } = await desk(['band-mismatch'], JSON.stringify(band));
    expect(status).toBe(0);
    expect(Object.keys(json)).toEqual(['result', 'working']);
    expect(json.result.gap_mm).toBeCloseTo(5, 12);
    expect(json.working.at(-1)).toMatchObject({ symbol: 'gap', unit: 'mm', formula: expect.stringContaining('1000') });
  });

  it('refuses a bad object with its path and exit status 2', async () => {
    const { status, json } = await desk(['band-mismatch'], JSON.stringify({ ...band, temperature_C: -300 }));
    expect(status).toBe(2);
    expect(json).toEqual({ error: { path: 'temperature_C', message: 'is below absolute zero (-273.15 °C)' } });
  });

  it('answers an array one for one, its bad items alone as errors, with exit status 0', async () => {
    const items = [band, { ...band, extra: 1 }, 7, null, JSON.parse(`{"__proto__": 1}`), band];
    const { status, json } = await desk(['band-mismatch'], JSON.stringify(items));
    expect(status).toBe(0);
    expect(json.map((o: object) => Object.keys(o)[0])).toEqual([
      'result',
      'error',
      'error',
      'error',
      'error',
      'result',
    ]);
    expect(json[1]).toEqual({ error: { path: '', message: 'has unknown keys: extra' } });
    expect(json[2]).toEqual({ error: { path: '', message: 'must be an object' } });
    expect(await desk(['band-mismatch'], '[]')).toEqual({ status: 0, json: [] });
  });

  it('answers a batch of several calculations, its bad items alone as errors', async () => {
    const items = [
      { calc: 'band-mismatch', input: band },
      { calc: 'thermocouple', input: { type: 'S', temperature_C: 1160 } },
      { calc: 'no-such', input: {} },
      { calc: 'rate' },
      { input: {} },
      { calc: 5, input: {} },
      { calc: 'rate', input: {}, also: 1 },
      [],
      { calc: 'rate', input: { readings: 5 } },
    ];
    const { status, json } = await desk(['--batch'], JSON.stringify(items));
    expect(status).toBe(0);
    expect(json[0].result.gap_mm).toBeCloseTo(5, 12);
    expect(json[1].result.emf_mV).toBeCloseTo(11.471, 3);
    expect(json.slice(2).map((o: { error: unknown }) => o.error)).toEqual([
      { path: 'calc', message: 'there is no calculation named no-such: --list gives all names' },
      { path: 'input', message: 'is missing' },
      { path: 'calc', message: 'is missing' },
      { path: 'calc', message: 'must be the name of a calculation' },
      { path: '', message: 'has unknown keys: also' },
      { path: '', message: 'must be an object with calc and input' },
      { path: 'readings', message: 'must be an array' },
    ]);
  });

  it.each([
    ['JSON that does not parse', ['rate'], '{"readings": [', 'the input is not valid JSON'],
    ['JSON that does not parse in a batch', ['--batch'], 'NaN', 'the input is not valid JSON'],
    ['nothing at all', ['rate'], '', 'the input is empty: JSON is expected on standard input'],
    ['bytes that are no text', ['rate'], new Uint8Array([0x22, 0xff, 0xfe, 0x22]), 'the input is not UTF-8 text'],
    ['a batch that is no array', ['--batch'], '{"calc": "rate"}', 'must be an array of {"calc": name, "input": {…}}'],
    ['an unknown name', ['no-such'], '{}', 'there is no calculation named no-such: --list gives all names'],
    ['an unknown option', ['--frob'], '{}', /^there is no option --frob: use --list/],
    ['a word too many', ['rate', 'now'], '{}', /^takes nothing after rate: use --list/],
    ['no word', [], '{}', /^use --list/],
  ])('refuses %s with exit status 2', async (_what, words, input, message) => {
    const { status, json } = await desk(words, input);
    expect(status).toBe(2);
    expect(Object.keys(json)).toEqual(['error']);
    expect(json.error.path).toBe('');
    expect(json.error.message).toEqual(typeof message === 'string' ? message : expect.stringMatching(message));
  });

  describe('a key that stands twice in one object', () => {
    const message = 'stands twice in one object: which of them counts cannot be told';
    const reading = '{"at_h": 0, "temperature_C": 20}';

    it.each([
      ['at the top', 'rate', `{"readings": [], "readings": [${reading}, ${reading}]}`, 'readings'],
      [
        'deep inside',
        'rate',
        `{"readings": [${reading}, {"at_h": 1, "temperature_C": 9, "at_h": 2}]}`,
        'readings.1.at_h',
      ],
      ['although escaped', 'entry-hash', '{"entry": {"a": 1, "\\u0061": 2}}', 'entry.a'],
      ['although with the same value', 'entry-hash', '{"entry": {"b": {"": 1, "": 1}}}', 'entry.b.'],
    ])('is refused %s', async (_where, name, input, path) => {
      expect(await desk([name], input)).toEqual({ status: 2, json: { error: { path, message } } });
    });

    it('is no fault in another object, nor in a text that looks like one', async () => {
      const input = '{"entry": [{"a": {"a": [1, "a"]}}, {"a": "{\\"a\\": 1, \\"a\\": 2}"}, "a", "a"]}';
      expect((await desk(['entry-hash'], input)).status).toBe(0);
    });

    it('refuses its own item of an array or a batch alone', async () => {
      const good = JSON.stringify(band);
      const bad = good.replace('{', '{"inner_diameter_mm": 5, ');
      const path = 'inner_diameter_mm';
      const array = await desk(['band-mismatch'], `[${good}, ${bad}, ${good}]`);
      expect(array.status).toBe(0);
      expect(array.json.map((o: object) => Object.keys(o)[0])).toEqual(['result', 'error', 'result']);
      expect(array.json[1]).toEqual({ error: { path, message } });
      const item = (input: string) => `{"calc": "band-mismatch", "input": ${input}}`;
      const batch = await desk(
        ['--batch'],
        `[${item(good)}, ${item(bad)}, {"calc": "rate", "calc": "spin", "input": {}}, {"calc": "rate", "input": 1, "input": 2}]`,
      );
      expect(batch.status).toBe(0);
      expect(batch.json[0]).toHaveProperty('result');
      expect(batch.json.slice(1).map((o: { error: unknown }) => o.error)).toEqual([
        { path, message },
        { path: 'calc', message },
        { path: 'input', message },
      ]);
    });
  });

  it('refuses numbers that overflow and JSON nested without end, without a stack trace', async () => {
    const overflow = await desk(['band-mismatch'], JSON.stringify(band).replace('520', '1e999'));
    expect(overflow).toEqual({
      status: 2,
      json: { error: { path: 'temperature_C', message: 'must be a finite number' } },
    });
    const deep = `{"entry": ${'['.repeat(100_000)}${']'.repeat(100_000)}}`;
    const nested = await desk(['entry-hash'], deep);
    expect(nested.status).toBe(2);
    expect(nested.json.error.message).toMatch(/nested too deep/);
  });

  it('takes ten thousand mixed items in one process, in order and finite', async () => {
    const random = seeded(20);
    const makers = calculations.map((c) => ({ calc: c.name, make: inputMaker(c.input) }));
    const items = Array.from({ length: 10_000 }, (_, k) => {
      const { calc, make } = makers[k % makers.length] as (typeof makers)[number];
      const input = k % 7 === 0 ? { type: 'S', temperature_C: k / 10 } : (make(random, k % 2 ? 0.05 : 0) ?? null);
      return k % 7 === 0 ? { calc: 'thermocouple', input } : { calc, input };
    });
    const { status, json } = await desk(['--batch'], JSON.stringify(items));
    expect(status).toBe(0);
    expect(json).toHaveLength(10_000);
    for (const k of [7, 7000, 9996]) {
      const alone = await desk(['thermocouple'], JSON.stringify(items[k]?.input));
      expect(json[k]).toEqual(alone.json);
    }
    for (const outcome of json) expect('result' in outcome !== 'error' in outcome).toBe(true);
  });
});
