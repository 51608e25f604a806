import * as z from 'zod/mini';

/** A random number in [0, 1), the same on every run (mulberry32). */
export type Random = () => number;

export function seeded(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

const wildValues: unknown[] = [
  null,
  undefined,
  true,
  '',
  '1',
  'text',
  [],
  {},
  [[]],
  Number.NaN,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  -0,
  0,
  5e-324,
  -5e-324,
  Number.MAX_VALUE,
  -Number.MAX_VALUE,
  1e300,
  1e-300,
  1e154,
  Number.MAX_SAFE_INTEGER,
  -273.15,
  1,
  -1,
];

const pick = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;

/** The parts of a JSON Schema that the calculations' inputs use. */
interface Shape {
  type?: string;
  anyOf?: Shape[];
  enum?: unknown[];
  const?: unknown;
  properties?: Record<string, Shape>;
  required?: string[];
  items?: Shape | false;
  prefixItems?: Shape[];
  minItems?: number;
  maxItems?: number;
  minimum?: number;
  exclusiveMinimum?: number;
  maximum?: number;
  exclusiveMaximum?: number;
}

/** Sizes that people work with, by how a key ends; log-uniform between the two. */
const sensible: readonly [RegExp, number, number][] = [
  [/pitch_mm$/, 120, 400],
  [/gap_mm$/, 5, 30],
  [/margin_mm$/, 5, 60],
  [/diameter_mm$/, 300, 3500],
  [/^radius_mm$/, 1600, 1603],
  [/angle_deg$/, 1, 360],
  [/ring_radius_mm$|radius_of_curvature_mm$/, 100, 20000],
  [/thickness_mm$/, 10, 400],
  [/_m$/, 0.5, 20],
  [/_C$/, 1, 1300],
  [/density_kg_m3$/, 200, 3000],
  [/expansion_per_K$/, 1e-7, 2e-5],
  [/rpm$/, 1, 20],
  [/at_h$|_h$/, 0.1, 800],
];

/** Makes inputs for a schema: near to what it takes, or, for the given share of the fields, anything at all. */
export function inputMaker(schema: z.ZodMiniType): (random: Random, wildness: number) => unknown {
  const shape = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as Shape;
  return (random, wildness) => valueFor(shape, '', random, wildness, 0);
}

function valueFor(shape: Shape, key: string, random: Random, wildness: number, depth: number): unknown {
  if (random() < wildness) return pick(random, wildValues);
  if (shape.const !== undefined) return shape.const;
  if (shape.enum) return pick(random, shape.enum);
  if (shape.anyOf) return valueFor(pick(random, shape.anyOf), key, random, wildness, depth);
  switch (shape.type) {
    case 'number':
    case 'integer':
      return numberFor(shape, key, random, wildness);
    case 'boolean':
      return random() < 0.5;
    case 'string':
      return pick(random, ['', 'A', 'B', 'C', '00', 'ab12', 'II', 'x\ud800', 'ä'.repeat(3)]);
    case 'null':
      return null;
    case 'array':
      return arrayFor(shape, key, random, wildness, depth);
    case 'object':
      return objectFor(shape, random, wildness, depth);
    default:
      return depth > 3 ? 1 : pick(random, [{ a: [1, 'b', null] }, [1e21, -0], 'text', 0.1, { ä: { b: 2 } }]);
  }
}

/** Most often of a size that people work with, at times at a limit, at times of any size at all. */
function numberFor(shape: Shape, key: string, random: Random, wildness: number): number {
  const low = shape.minimum ?? shape.exclusiveMinimum ?? Number.NEGATIVE_INFINITY;
  const high = shape.maximum ?? shape.exclusiveMaximum ?? Number.POSITIVE_INFINITY;
  const kind = random();
  const usual = sensible.find(([ending]) => ending.test(key));
  let value: number;
  if (kind < 0.1) value = pick(random, [0, 1, 2, 3, 5, 10, 20, 100, low, high, -1].filter(Number.isFinite));
  else if (kind < 0.2 && wildness > 0) value = 10 ** (random() * 600 - 300) * (random() < 0.5 ? -1 : 1);
  else if (usual) value = usual[1] * (usual[2] / usual[1]) ** random();
  else if (Number.isFinite(low) && Number.isFinite(high)) value = low + (high - low) * random();
  else if (Number.isFinite(low)) value = low + 10 ** (random() * 7 - 3);
  else value = (random() < 0.7 ? 1 : -1) * 10 ** (random() * 6 - 2);
  if (shape.type === 'integer') value = Math.round(value);
  return Math.min(Math.max(value, low), high);
}

function arrayFor(shape: Shape, key: string, random: Random, wildness: number, depth: number): unknown[] {
  if (shape.prefixItems) return shape.prefixItems.map((item) => valueFor(item, key, random, wildness, depth + 1));
  const least = shape.minItems ?? 0;
  const most = Math.min(shape.maxItems ?? least + 3, least + 3);
  const length = least + Math.floor(random() * (most - least + 1));
  const items = Array.from({ length }, () => valueFor(shape.items || {}, key, random, wildness, depth + 1));
  // Repeated items make the degenerate cases: coincident points, equal readings.
  if (length > 1 && random() < 0.1) items.fill(items[0]);
  return items;
}

function objectFor(shape: Shape, random: Random, wildness: number, depth: number): Record<string, unknown> {
  const required = new Set(shape.required ?? []);
  const made: Record<string, unknown> = {};
  for (const [key, field] of Object.entries(shape.properties ?? {})) {
    if (!required.has(key) && random() < 0.5) continue;
    if (random() < wildness / 4) continue;
    made[key] = valueFor(field, key, random, wildness, depth + 1);
  }
  if (random() < wildness / 10) made.stray = 1;
  return made;
}
