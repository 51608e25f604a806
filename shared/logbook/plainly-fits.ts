import type * as z from 'zod/mini';

/** Whether a value fits as it stands. False says nothing: then the schema decides. */
export type PlainlyFits = (value: unknown) => boolean;

type Schema = z.core.$ZodType;
type Def = z.core.$ZodTypes['_zod']['def'];

const never: PlainlyFits = () => false;

/**
 * Tells fast whether a value that was parsed from JSON fits a schema and holds no key that the schema does not name, so
 * that reading it by the schema would give it back as it is. Made of the schema itself; what it does not know of it, it
 * leaves to the schema.
 */
export function plainlyFits(schema: Schema): PlainlyFits {
  const def = schema._zod.def as Def;
  const fits = ofType(def);
  const checks = (def.checks ?? []).map((check) => ofCheck(check._zod.def as z.core.$ZodChecks['_zod']['def']));
  return checks.length === 0 ? fits : (value) => fits(value) && checks.every((check) => check(value));
}

function ofType(def: Def): PlainlyFits {
  switch (def.type) {
    case 'string':
      // A text of a format that has a name of its own is a check by itself.
      return 'check' in def ? never : (value) => typeof value === 'string';
    case 'boolean':
      return (value) => typeof value === 'boolean';
    case 'number':
      return numberOf(def);
    case 'unknown':
      return () => true;
    case 'literal':
      return (value) => (def.values as readonly unknown[]).includes(value);
    case 'enum': {
      const values = new Set<unknown>(Object.values(def.entries));
      return (value) => values.has(value);
    }
    case 'nullable': {
      const inner = plainlyFits(def.innerType);
      return (value) => value === null || inner(value);
    }
    case 'optional':
      return plainlyFits(def.innerType);
    case 'array': {
      const element = plainlyFits(def.element);
      return (value) => Array.isArray(value) && value.every(element);
    }
    case 'tuple': {
      const items = def.items.map(plainlyFits);
      return (value) =>
        Array.isArray(value) && value.length === items.length && items.every((item, i) => item(value[i]));
    }
    case 'record':
      return recordOf(plainlyFits(def.keyType), plainlyFits(def.valueType));
    case 'object':
      return objectOf(def.shape);
    case 'custom':
      return customOf(def);
    default:
      return never;
  }
}

function numberOf(def: Def): PlainlyFits {
  const { check, format } = def as { check?: string; format?: string };
  if (check === undefined) return Number.isFinite;
  return check === 'number_format' && format === 'safeint' ? Number.isSafeInteger : never;
}

function customOf(def: Def): PlainlyFits {
  const { fn } = def as unknown as { fn?: (value: unknown) => unknown };
  return fn ? (value) => fn(value) === true : never;
}

function ofCheck(def: z.core.$ZodChecks['_zod']['def']): PlainlyFits {
  switch (def.check) {
    case 'string_format': {
      const { format, pattern } = def as { format: string; pattern?: RegExp };
      return format === 'regex' && pattern && !pattern.global && !pattern.sticky
        ? (value) => pattern.test(value as string)
        : never;
    }
    case 'min_length':
      return (value) => (value as { length: number }).length >= def.minimum;
    case 'max_length':
      return (value) => (value as { length: number }).length <= def.maximum;
    case 'greater_than':
      return (value) => (value as number) > Number(def.value) || (def.inclusive && value === def.value);
    default:
      return never;
  }
}

const isPlainObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A key that objects treat as no other: the schema decides. */
const ODD_KEY = '__proto__';

const recordOf =
  (key: PlainlyFits, item: PlainlyFits): PlainlyFits =>
  (value) =>
    isPlainObject(value) && Object.keys(value).every((name) => name !== ODD_KEY && key(name) && item(value[name]));

function objectOf(shape: Readonly<Record<string, Schema>>): PlainlyFits {
  const parts = new Map(
    Object.entries(shape).map(([name, part]) => [
      name,
      { fits: plainlyFits(part), isNeeded: part._zod.def.type !== 'optional' },
    ]),
  );
  const needed = [...parts.values()].filter((part) => part.isNeeded).length;
  return (value) => {
    if (!isPlainObject(value)) return false;
    let found = 0;
    for (const name of Object.keys(value)) {
      const part = parts.get(name);
      if (part === undefined || !part.fits(value[name])) return false;
      if (part.isNeeded) found += 1;
    }
    return found === needed;
  };
}
