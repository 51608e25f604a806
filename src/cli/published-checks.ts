import { existsSync, readFileSync } from 'node:fs';
import type { PublishedCheck } from './method-page.ts';

const folder = new URL('../../tests/external/data/', import.meta.url);

/** The published values that the tests of a calculation read. */
export function publishedChecks(name: string): PublishedCheck[] {
  const file = new URL(`${name}.json`, folder);
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as PublishedCheck[]) : [];
}

/** General-purpose reference libraries that the tests of a calculation hold it to; none of them is used to compute. */
export function referenceLibraries(name: string): string[] {
  const file = new URL(`../../tests/external/${name}.test.ts`, import.meta.url);
  const text = existsSync(file) ? readFileSync(file, 'utf8') : '';
  return [...new Set([...text.matchAll(/from '(jstat|ml-[a-z-]+)'/g)].map((m) => m[1]!))].sort();
}
