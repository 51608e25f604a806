import { existsSync, readFileSync } from 'node:fs';
import type { PublishedCheck } from './method-page.ts';

const folder = new URL('../../tests/external/data/', import.meta.url);

/** The published values that the tests of a calculation read. */
export function publishedChecks(name: string): PublishedCheck[] {
  const file = new URL(`${name}.json`, folder);
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as PublishedCheck[]) : [];
}
