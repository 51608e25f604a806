import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';

const dist = fileURLToPath(new URL('../../dist/tablet', import.meta.url));
const gzipped = (file: string): number => gzipSync(readFileSync(join(dist, file)), { level: 9 }).length;

/** The scripts and sheets that the page names, and all that those scripts import before the first screen. */
function firstLoad(): string[] {
  const html = readFileSync(join(dist, 'index.html'), 'utf8');
  const found = new Set<string>();
  const open = [...html.matchAll(/(?:src|href)="\/(assets\/[^"]+\.(?:js|css))"/g)].map((m) => m[1]!);
  for (let file = open.pop(); file; file = open.pop()) {
    if (found.has(file)) continue;
    found.add(file);
    if (!file.endsWith('.js')) continue;
    const code = readFileSync(join(dist, file), 'utf8');
    for (const [, name] of code.matchAll(/(?:from|import)\s*["']\.\/([^"']+\.js)["']/g)) open.push(`assets/${name}`);
  }
  return [...found];
}

describe('the first load', () => {
  it('is at most 90 kB of JavaScript and CSS, gzipped', () => {
    const sizes = firstLoad().map((file) => [file, gzipped(file)] as const);
    const total = sizes.reduce((sum, [, size]) => sum + size, 0);
    console.log(
      `first load ${(total / 1000).toFixed(1)} kB gz: ${sizes.map(([f, s]) => `${f} ${(s / 1000).toFixed(1)}`).join(', ')}`,
    );
    expect(sizes.length).toBeGreaterThan(2);
    expect(total).toBeLessThanOrEqual(90_000);
  });

  it('leaves plan texts and calculations to the screens that want them', () => {
    const code = firstLoad()
      .filter((f) => f.endsWith('.js'))
      .map((f) => readFileSync(join(dist, f), 'utf8'))
      .join('\n');
    const all = readdirSync(join(dist, 'assets'))
      .filter((f) => f.endsWith('.js'))
      .map((f) => readFileSync(join(dist, 'assets', f), 'utf8'))
      .join('\n');
    for (const words of ['Bearing grease renewed', 'ISO 14253-1', 'mould-diameter']) {
      expect([all.includes(words), code.includes(words)], words).toEqual([true, false]);
    }
  });
});
