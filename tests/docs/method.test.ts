import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { calculations } from '../../shared/calculations/registry.ts';
import { methodPage, symbolsOf } from '../../src/cli/method-page.ts';
import { otherChecks, publishedChecks, referenceLibraries } from '../../src/cli/published-checks.ts';

const page = readFileSync(new URL('../../docs/method.md', import.meta.url), 'utf8');

describe('docs/method.md', () => {
  it('says what the calculations and their published values say: run `npm run method` when it does not', () => {
    expect(page).toBe(methodPage(calculations, publishedChecks, referenceLibraries, otherChecks));
  });

  it.each(calculations.map((c) => [c.name, c] as const))(
    '%s names its source and is checked from outside',
    (name, c) => {
      expect(c.source.trim()).not.toBe('');
      const checks = publishedChecks(name);
      expect(checks.length).toBeGreaterThan(0);
      for (const check of checks) expect(check.source.trim().length).toBeGreaterThan(5);
      // A second computation of our own is no outside check by itself.
      const outside = checks.filter((check) => !/computed independently|from memory/i.test(check.source));
      expect([...outside, ...referenceLibraries(name)].length, `${name} has no check from outside`).toBeGreaterThan(0);
      // The published inputs are answered, so the page can show the symbols of the working.
      expect(symbolsOf(c, checks).length).toBeGreaterThan(0);
      expect(page).toContain(`: \`${name}\`\n`);
    },
  );
});
