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
  return [...new Set([...testOf(name).matchAll(/from '(jstat|ml-[a-z-]+)'/g)].map((m) => m[1]!))].sort();
}

const runs: Record<string, string> = {
  'slab-cooling':
    'a numerical run that shares no formula with it: a slab in layers by explicit finite differences, elastic and as a Maxwell body cooled through its setting range (tests/external/slab-cooling.ts)',
  'walked-plan': 'a set point moved on in small steps, which knows no totals (tests/external/walked-plan.ts)',
};

/** Numerical runs of our own that the tests of a calculation hold it to. */
export function numericalRuns(name: string): string[] {
  const test = testOf(name);
  return Object.entries(runs).flatMap(([file, words]) => (test.includes(`from './${file}.ts'`) ? [words] : []));
}

function testOf(name: string): string {
  const file = new URL(`../../tests/external/${name}.test.ts`, import.meta.url);
  return existsSync(file) ? readFileSync(file, 'utf8') : '';
}
