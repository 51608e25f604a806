import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

/** The checker of the accessibility rules as the package for this driver brings it. */
const axeSource = readFileSync(
  createRequire(createRequire(import.meta.url).resolve('@axe-core/playwright')).resolve('axe-core/axe.min.js'),
  'utf8',
);

interface Found {
  readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
}
interface WithAxe {
  axe?: { run(context: Document, options: object): Promise<Found> };
}

/**
 * What axe finds on the page as it stands, each rule with the first few elements; by some rules, or by all. It is put
 * into a document once: the package's own builder does so at each call, and opens a page for the result.
 */
export async function violationsIn(page: Page, rules?: readonly string[]): Promise<string[]> {
  if (!(await page.evaluate(() => (globalThis as WithAxe).axe !== undefined))) await page.evaluate(axeSource);
  return page.evaluate(async (only) => {
    const runOnly = only ? { runOnly: { type: 'rule', values: [...only] } } : {};
    const { violations } = await (globalThis as WithAxe).axe!.run(document, {
      resultTypes: ['violations'],
      ...runOnly,
    });
    return violations.map(({ id, nodes }) => {
      const where = nodes.slice(0, 3).map((n) => n.html.slice(0, 160));
      return `${id}: ${where.join(' | ')}`;
    });
  }, rules ?? null);
}
