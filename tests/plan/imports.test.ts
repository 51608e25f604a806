import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const shared = fileURLToPath(new URL('../../shared', import.meta.url));

/** What a module imports at run time, relative ones as paths within shared/. */
function importsOf(file: string): string[] {
  const text = readFileSync(path.join(shared, file), 'utf8');
  const found = [...text.matchAll(/^(?:import|export) (?!type )[^;]*?from '([^']+)';/gm)].map((m) => m[1]!);
  return found.map((name) => (name.startsWith('.') ? path.join(path.dirname(file), name) : name));
}

function reachableFrom(entry: string): Set<string> {
  const seen = new Set<string>();
  const waiting = [entry];
  for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) {
    if (seen.has(file)) continue;
    seen.add(file);
    if (file.endsWith('.ts')) waiting.push(...importsOf(file));
  }
  return seen;
}

describe('what the plan imports', () => {
  test('stays within shared/ and zod/mini', () => {
    const files = readdirSync(path.join(shared, 'plan'), { recursive: true, encoding: 'utf8' }).filter((f) =>
      f.endsWith('.ts'),
    );
    expect(files.length).toBeGreaterThan(40);
    for (const file of files) {
      for (const name of importsOf(path.join('plan', file))) {
        expect(name === 'zod/mini' || /^(plan|calculations)\//.test(name), `${file} imports ${name}`).toBe(true);
      }
    }
  });

  test('derived figures come without the texts of the plan', () => {
    const content = [...reachableFrom('plan/derived-figures.ts')].filter((f) => f.startsWith('plan/content/'));
    expect(content).toEqual(['plan/content/heat-plan-anneal.ts']);
  });

  test('neither reads a clock, chance, storage or the network', () => {
    for (const file of reachableFrom('plan/build-plan.ts')) {
      if (!file.endsWith('.ts')) continue;
      const text = readFileSync(path.join(shared, file), 'utf8');
      expect(text, file).not.toMatch(/Date\.now|new Date|Math\.random|localStorage|indexedDB|fetch\(|process\./);
    }
  });
});
