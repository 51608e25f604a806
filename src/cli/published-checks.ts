import { existsSync, readdirSync, readFileSync } from 'node:fs';
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
  'relaxed-network':
    'a network by brute force, random ones: each link tried on its own, starts moved until nothing moves (tests/external/relaxed-network.ts). No published example was found of shift calendars in a network, nor of free float under FF and SF links where work is not stretched: calendars are counted by hand and held to laws, such as that a delay makes nothing earlier (tests/external/network-with-calendars.test.ts)',
  'walked-plan': 'a set point moved on in small steps, which knows no totals (tests/external/walked-plan.ts)',
};

/** What else the tests of a calculation hold it to: published tables, and numerical runs of our own. */
export function otherChecks(name: string): string[] {
  const test = testOf(name);
  const tables = readdirSync(folder)
    .sort()
    .filter((file) => file.startsWith(`${name}-`) && test.includes(`('${file.slice(0, -'.json'.length)}')`))
    .flatMap((file) => sourceOf(new URL(file, folder)));
  return [...tables, ...Object.entries(runs).flatMap(([file, words]) => (test.includes(`./${file}.ts'`) ? words : []))];
}

function sourceOf(file: URL): string[] {
  const { source } = JSON.parse(readFileSync(file, 'utf8')) as { source?: string };
  return source === undefined ? [] : [`${source} (whole table)`];
}

function testOf(name: string): string {
  const file = new URL(`../../tests/external/${name}.test.ts`, import.meta.url);
  return existsSync(file) ? readFileSync(file, 'utf8') : '';
}
