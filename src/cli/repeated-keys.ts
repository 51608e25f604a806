/** One step into JSON: a key of an object, or an index of an array. */
export type Step = string | number;

interface Level {
  /** Keys met so far; none in an array. */
  keys: Set<string> | undefined;
  at: Step;
  awaitsKey: boolean;
}

/** Strings and the signs that order JSON; numbers and words between them need no look. */
const token = /"[^"\\]*(?:\\.[^"\\]*)*"|[{}[\],]/g;

/**
 * Where a key stands a second time in one object. `JSON.parse` would keep the last silently; I-JSON (RFC 7493, 2.3),
 * on which RFC 8785 builds, forbids it.
 * @param text JSON that parses
 * @returns the steps to each key that repeats an earlier one, in the order of the text
 */
export function repeatedKeys(text: string): Step[][] {
  const found: Step[][] = [];
  const levels: Level[] = [];
  for (const [sign] of text.matchAll(token)) {
    const level = levels.at(-1);
    if (sign === '{') levels.push({ keys: new Set(), at: '', awaitsKey: true });
    else if (sign === '[') levels.push({ keys: undefined, at: 0, awaitsKey: false });
    else if (sign === '}' || sign === ']') levels.pop();
    else if (sign === ',') toNext(level as Level);
    else if (level?.awaitsKey && !addKey(level, sign)) found.push(levels.map(({ at }) => at));
  }
  return found;
}

function toNext(level: Level): void {
  if (level.keys) level.awaitsKey = true;
  else level.at = (level.at as number) + 1;
}

/** False where the object has that key already, however it is escaped. */
function addKey(level: Level, quoted: string): boolean {
  const key = JSON.parse(quoted) as string;
  const isNew = !level.keys?.has(key);
  level.keys?.add(key);
  level.at = key;
  level.awaitsKey = false;
  return isNew;
}
