import * as z from 'zod/mini';
import { type Calculation, runCalculation } from '../../shared/calculations/calculation.ts';
import { calculationNamed, calculations } from '../../shared/calculations/registry.ts';
import { repeatedKeys, type Step } from './repeated-keys.ts';

/** What the desk command prints, and its exit status. */
export interface Answer {
  status: 0 | 1 | 2;
  output: unknown;
}

const usage = 'use --list, the name of a calculation, or --batch; JSON comes on standard input';

const refusal = (path: string, message: string) => ({ error: { path, message } });
const refused = (path: string, message: string): Answer => ({ status: 2, output: refusal(path, message) });

/**
 * Answers the desk command, in whatever form it was given.
 * @param words what stands after the command
 * @param readInput gives all of standard input; called only by the forms that take one
 */
export async function answerDesk(words: readonly string[], readInput: () => Promise<Uint8Array>): Promise<Answer> {
  const [form, ...rest] = words;
  if (form === undefined) return refused('', usage);
  if (rest.length > 0) return refused('', `takes nothing after ${form}: ${usage}`);
  if (form === '--list') return { status: 0, output: calculations.map(described) };
  if (form === '--batch') return answerBatch(await readInput());
  if (form.startsWith('-')) return refused('', `there is no option ${form}: ${usage}`);
  const calculation = calculationNamed(form);
  if (!calculation) return refused('', unknownName(form));
  return answerNamed(calculation, await readInput());
}

const unknownName = (name: string) => `there is no calculation named ${name}: --list gives all names`;

function answerNamed(calculation: Calculation, bytes: Uint8Array): Answer {
  const read = parsed(bytes);
  if ('error' in read) return { status: 2, output: read };
  const { value, repeated } = read;
  if (Array.isArray(value)) {
    const twice = byItem(repeated);
    const output = value.map((input, n) => refusedTwice(twice.get(n)) ?? outcomeOf(calculation, input));
    return { status: 0, output };
  }
  const output = refusedTwice(repeated[0]) ?? outcomeOf(calculation, value);
  return { status: 'error' in output ? 2 : 0, output };
}

function answerBatch(bytes: Uint8Array): Answer {
  const read = parsed(bytes);
  if ('error' in read) return { status: 2, output: read };
  if (!Array.isArray(read.value)) return refused('', 'must be an array of {"calc": name, "input": {…}}');
  const twice = byItem(read.repeated);
  return { status: 0, output: read.value.map((item, n) => refusedTwice(inInput(twice.get(n))) ?? outcomeOfItem(item)) };
}

/** The first repeated key of each item of an array, as steps within the item. */
function byItem(repeated: readonly Step[][]): Map<Step, Step[]> {
  const twice = new Map<Step, Step[]>();
  for (const [item, ...within] of repeated) if (item !== undefined && !twice.has(item)) twice.set(item, within);
  return twice;
}

/** Steps within an input, as in every other refusal of an input in a batch. */
const inInput = (steps?: Step[]) => (steps?.[0] === 'input' && steps.length > 1 ? steps.slice(1) : steps);

const refusedTwice = (steps?: Step[]) =>
  steps && refusal(steps.join('.'), 'stands twice in one object: which of them counts cannot be told');

function outcomeOfItem(item: unknown) {
  if (item === null || typeof item !== 'object' || Array.isArray(item)) {
    return refusal('', 'must be an object with calc and input');
  }
  const unknown = Object.keys(item).filter((key) => key !== 'calc' && key !== 'input');
  if (unknown.length > 0) return refusal('', `has unknown keys: ${unknown.join(', ')}`);
  if (!Object.hasOwn(item, 'calc')) return refusal('calc', 'is missing');
  if (!Object.hasOwn(item, 'input')) return refusal('input', 'is missing');
  const { calc, input } = item as { calc: unknown; input: unknown };
  if (typeof calc !== 'string') return refusal('calc', 'must be the name of a calculation');
  const calculation = calculationNamed(calc);
  return calculation ? outcomeOf(calculation, input) : refusal('calc', unknownName(calc));
}

/** One outcome. A fault of ours takes down its own item only, and leaves no stack trace. */
function outcomeOf(calculation: Calculation, input: unknown) {
  try {
    return runCalculation(calculation, input);
  } catch (error) {
    if (error instanceof RangeError) return refusal('', 'is nested too deep, or too large, to be worked out');
    const what = error instanceof Error ? error.message : String(error);
    return refusal('', `a fault of this program, please report it: ${what}`);
  }
}

function parsed(bytes: Uint8Array): { value: unknown; repeated: Step[][] } | ReturnType<typeof refusal> {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return refusal('', 'the input is not UTF-8 text');
  }
  if (text.trim() === '') return refusal('', 'the input is empty: JSON is expected on standard input');
  try {
    return { value: JSON.parse(text), repeated: repeatedKeys(text) };
  } catch {
    return refusal('', 'the input is not valid JSON');
  }
}

function described(calculation: Calculation) {
  const { name, title, group } = calculation;
  return {
    name,
    title,
    group,
    inputs: fieldsOf(calculation.input, 'input'),
    outputs: fieldsOf(calculation.output, 'output'),
  };
}

/** The keys of an object schema, each with its own JSON Schema and whether it may be left out. */
function fieldsOf(schema: z.ZodMiniType, io: 'input' | 'output'): Record<string, unknown> {
  const json = z.toJSONSchema(schema, { io, unrepresentable: 'any' });
  const required = new Set(json.required ?? []);
  return Object.fromEntries(
    Object.entries(json.properties ?? {}).map(([key, field]) => [
      key,
      { optional: !required.has(key), ...(typeof field === 'object' ? field : {}) },
    ]),
  );
}
