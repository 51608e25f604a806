import { figureWords, keyWords, unitOfKey } from './plan-words.ts';
import { isRow, type Json, type Row, sameJson } from './same-json.ts';
import type { Characteristic, Plan, Requirement } from './schema.ts';

/** One thing that two plans do not have alike. */
export interface PlanChange {
  /** What it is, e.g. `Inner diameter at 20 °C, upper limit`. */
  readonly what: string;
  /** Figure with its unit, or words; null where it is new. */
  readonly before: string | null;
  /** Null where it is gone. */
  readonly after: string | null;
}

/** What changes for one operation, hold point, heat or other part of the plan. */
export interface PlanChanges {
  readonly id: string;
  readonly title: string;
  readonly changes: readonly PlanChange[];
}

/** The lists that have groups of their own, in the order in which they are read. */
const LISTS = ['operations', 'characteristics', 'holds', 'heatPlans', 'witnesses'] as const;
type ListName = (typeof LISTS)[number];

/** Words for the first of many and the number of the others. */
const MOST_LINES = 6;

/**
 * What two plans do not have alike, in words: limits with their units from old to new, what is added, what is gone; by
 * operation, hold point, heat and witness point, then the rest of the plan. Empty when they differ in nothing but the
 * name of the revision.
 */
export function planDifference(before: Plan, after: Plan): readonly PlanChanges[] {
  const groups = new Map<string, { id: string; title: string; changes: PlanChange[] }>();
  const add = (id: string, title: string, changes: readonly PlanChange[]) => {
    if (changes.length === 0) return;
    const group = groups.get(id) ?? { id, title, changes: [] };
    group.changes.push(...changes);
    groups.set(id, group);
  };
  // Named first so that what is measured in an operation stands with it.
  const titles = new Map([...before.operations, ...after.operations].map((o) => [o.id, operationTitle(o.id, o.name)]));
  for (const list of LISTS)
    for (const [id, a, b] of pairs(before[list], after[list])) {
      const [group, title] = placeOf(list, id, (b ?? a) as Row, titles);
      add(group, title, itemChanges(list, a, b));
    }
  for (const key of restOf(before, after)) {
    const was = (before as Row)[key];
    const is = (after as Row)[key];
    add(`rest/${key}`, capital(keyWords(key)), shortened(compare(was, is, '', '', key)));
  }
  const place = new Map([...titles.keys()].map((id, i) => [`operation/${id}`, i]));
  const orderOf = (id: string) => place.get(id) ?? place.get(`operation/${id.split('/')[1]?.split('+')[0]}`) ?? 1e6;
  const all = [...groups.values()];
  const early = all.filter((g) => g.id.startsWith('operation'));
  return [...early.sort((a, b) => orderOf(a.id) - orderOf(b.id)), ...all.filter((g) => !early.includes(g))];
}

/** A change on one line. */
export const changeWords = ({ what, before, after }: PlanChange): string =>
  before === null
    ? `${what}: new, ${after}`
    : after === null
      ? `${what}: gone, was ${before}`
      : `${what}: ${before} → ${after}`;

const operationTitle = (id: string, name: string): string => `Operation ${id}, ${name}`;

function placeOf(list: ListName, id: string, item: Row, titles: ReadonlyMap<string, string>): [string, string] {
  const named = `${id}, ${String(item.name)}`;
  switch (list) {
    case 'operations':
      return [`operation/${id}`, titles.get(id) ?? named];
    case 'characteristics': {
      const operations = item.operations as readonly string[];
      const one = operations.length === 1 ? titles.get(operations[0]!) : undefined;
      return [`operation/${operations.join('+')}`, one ?? `Operations ${operations.join(', ')}`];
    }
    case 'holds':
      return [`hold/${id}`, `Hold point ${named}`];
    case 'heatPlans':
      return [`heat/${id}`, `Heat ${named}`];
    case 'witnesses':
      return [`witness/${id}`, `Witness point ${named}`];
  }
}

/** Everything else that either plan has, in the order of the plan; the name of the revision is said above it all. */
const restOf = (before: Plan, after: Plan): string[] =>
  [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (key) => key !== 'revision' && !(LISTS as readonly string[]).includes(key),
  );

/** What a list has before and after, by what names its items; what is new stands where it was put. */
function pairs(before: readonly Json[] = [], after: readonly Json[] = []): [string, Json, Json][] {
  const a = named(before);
  const b = named(after);
  return [...new Set([...a.keys(), ...b.keys()])].map((id) => [id, a.get(id), b.get(id)]);
}

function named(items: readonly Json[]): Map<string, Json> {
  const found = new Map<string, Json>();
  items.forEach((item, i) => {
    const name = nameOf(item) ?? `${i + 1}`;
    found.set(found.has(name) ? `${name} (${i + 1})` : name, item);
  });
  return found;
}

/** What tells an item of a list from the others. */
function nameOf(item: Json): string | null {
  if (!isRow(item)) return null;
  if (typeof item.id === 'string') return item.id;
  if (typeof item.kind === 'string') return requirementName(item as Requirement);
  if (Array.isArray(item.operations) && 'nominal' in item) return `in ${item.operations.join(', ')}`;
  return typeof item.extent === 'string' ? `${item.extent} rounds` : null;
}

function requirementName(need: Requirement): string {
  switch (need.kind) {
    case 'sheet':
      return `check sheet ${need.operation}`;
    case 'characteristic':
      return `${need.characteristic}, operation ${need.operation}`;
    case 'rounds':
      return `rounds of heat ${need.heatPlan}`;
    case 'statement':
      return `statement ${need.id}`;
    case 'photos':
      return `photos of ${need.photo}, operation ${need.operation}`;
    case 'witness':
      return `witness point ${need.witness}`;
    case 'holds':
      return 'hold points released';
  }
}

function itemChanges(list: ListName, a: Json, b: Json): PlanChange[] {
  const item = (b ?? a) as Row;
  const what = list === 'characteristics' ? String(item.name) : '';
  if (a === undefined) return [{ what: what || capital(LIST_WORDS[list]), before: null, after: newWords(list, item) }];
  if (b === undefined) return [{ what: what || capital(LIST_WORDS[list]), before: newWords(list, item), after: null }];
  return compare(a, b, what, unitOf(item), '').map((c) => ({ ...c, what: capital(c.what) }));
}

const LIST_WORDS: { readonly [L in ListName]: string } = {
  operations: 'operation',
  characteristics: 'characteristic',
  holds: 'hold point',
  heatPlans: 'heat',
  witnesses: 'witness point',
};

/** Of a characteristic its limits stand with it: they are what is looked for. */
function newWords(list: ListName, item: Row): string {
  if (list !== 'characteristics') return said(item, '', '');
  const { limits, unit } = item as unknown as Characteristic;
  const all = limits.map((l) => said(l, unit, ''));
  return [`in operation ${(item.operations as string[]).join(', ')}`, ...all].join('; ');
}

const unitOf = (item: Row): string => (typeof item.unit === 'string' ? item.unit : '');

function compare(a: Json, b: Json, what: string, unit: string, key: string): PlanChange[] {
  if (sameJson(a, b)) return [];
  const whole = () => [
    { what: what || capital(keyWords(key)), before: orNone(a, unit, key), after: orNone(b, unit, key) },
  ];
  if (/erivation$/.test(key)) return [{ what, before: howFound(a), after: howFound(b) }];
  if (key === 'offsetByStation') return offsetChanges((a ?? {}) as Row, (b ?? {}) as Row, what, unit);
  if (Array.isArray(a) && Array.isArray(b)) return listChanges(a, b, what, unit, key);
  if (!isRow(a) || !isRow(b)) return whole();
  const own = unitOf(b) || unit;
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((k) =>
    compare(a[k], b[k], isSilent(k, b[k] ?? a[k]) ? what : under(what, keyWords(k)), own, k),
  );
}

/** Lists whose items say by their own names what they are. */
const isSilent = (key: string, value: Json): boolean =>
  Array.isArray(value) && ['limits', 'segments', 'rounds'].includes(key);

function listChanges(a: readonly Json[], b: readonly Json[], what: string, unit: string, key: string): PlanChange[] {
  if (![...a, ...b].some(isRow)) return lineChanges(a, b, what, unit, key);
  const alone = key === 'limits' && a.length === 1 && b.length === 1;
  const changes = pairs(a, b).flatMap(([id, x, y]): PlanChange[] => {
    const label = alone ? '' : key === 'segments' ? `segment ${id}` : labelOf(id, x, y);
    const here = under(what, label);
    if (x === undefined) return [{ what: here, before: null, after: said(y, unit, key) }];
    if (y === undefined) return [{ what: here, before: said(x, unit, key), after: null }];
    return compare(x, y, here, unit, '');
  });
  return changes.length > 0 ? changes : [orderChange(a, b, what, unit, key)];
}

/** Lines of words, and names: what came and what went; else only their order changed. */
function lineChanges(a: readonly Json[], b: readonly Json[], what: string, unit: string, key: string): PlanChange[] {
  const line = (v: Json) => said(v, unit, key);
  const gone = a.filter((v) => !b.some((o) => sameJson(v, o)));
  const come = b.filter((v) => !a.some((o) => sameJson(v, o)));
  if (gone.length === 0 && come.length === 0) return [orderChange(a, b, what, unit, key)];
  if (gone.length === 1 && come.length === 1) return [{ what, before: line(gone[0]), after: line(come[0]) }];
  return [
    ...gone.map((v) => ({ what, before: line(v), after: null })),
    ...come.map((v) => ({ what, before: null, after: line(v) })),
  ];
}

const orderChange = (a: readonly Json[], b: readonly Json[], what: string, unit: string, key: string): PlanChange => ({
  what: under(what, 'order'),
  before: a.map((v) => shortName(v, unit, key)).join(', '),
  after: b.map((v) => shortName(v, unit, key)).join(', '),
});

const shortName = (v: Json, unit: string, key: string): string => nameOf(v) ?? said(v, unit, key);

/** Hundreds of stations may shift together: how many, and the first of them. */
function offsetChanges(a: Row, b: Row, what: string, unit: string): PlanChange[] {
  const moved = [...new Set([...Object.keys(a), ...Object.keys(b)])].filter((id) => a[id] !== b[id]);
  return shortened(
    moved.map((id) => ({
      what: under(what, id),
      before: orNone(a[id], unit, 'value'),
      after: orNone(b[id], unit, 'value'),
    })),
  );
}

function shortened(changes: readonly PlanChange[]): PlanChange[] {
  if (changes.length <= MOST_LINES) return [...changes];
  const more = changes.length - MOST_LINES + 1;
  return [...changes.slice(0, MOST_LINES - 1), { what: `And ${more} more like these`, before: '', after: 'changed' }];
}

/** A thing as it is said in full: its name, or its parts with their words. */
function said(value: Json, unit: string, key: string): string {
  if (typeof value === 'number') return figureWords(value, unitOfKey(key, unit));
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  if (Array.isArray(value)) return value.map((v) => said(v, unit, key)).join(', ') || 'none';
  if (!isRow(value)) return 'none';
  if (typeof value.name === 'string') return value.name;
  if (typeof value.text === 'string') return value.text;
  if (typeof value.label === 'string') return value.label;
  if (typeof value.words === 'string' && !('kind' in value)) return value.words;
  if (typeof value.kind === 'string') return requirementWords(value as Requirement);
  return Object.entries(value)
    .filter(([k, v]) => v !== null && v !== undefined && !/erivation$|^offsetByStation$/.test(k))
    .map(([k, v]) => `${keyWords(k)} ${said(v, unit, k)}`)
    .join(', ');
}

const requirementWords = (need: Requirement): string =>
  'words' in need && need.words ? need.words : requirementName(need);

const orNone = (value: Json, unit: string, key: string): string | null =>
  value === undefined || value === null ? null : said(value, unit, key);

const howFound = (value: Json): string => (isRow(value) ? `worked out by ${String(value.calculation)}` : 'set by hand');

function labelOf(id: string, a: Json, b: Json): string {
  const item = b ?? a;
  return isRow(item) && typeof item.name === 'string' ? `${id} ${item.name}` : id;
}

const under = (what: string, part: string): string => (what === '' ? part : part === '' ? what : `${what}, ${part}`);

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
