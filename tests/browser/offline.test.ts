import { appendFileSync, cpSync, mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../server/app-alone.ts';
import { TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { go, openPractice, readingField } from './steps.ts';

const built = fileURLToPath(new URL('../../dist/tablet', import.meta.url));

describe('offline', () => {
  const tablet = new TestTabletBrowser();
  const folder = join(mkdtempSync(join(tmpdir(), 'lehrbook-app-')), 'tablet');
  let server: FastifyInstance;
  let page: Page;
  let port = 0;

  const serve = async (): Promise<void> => {
    server = await buildApp(folder);
    await server.listen({ port, host: '127.0.0.1' });
    port = (server.server.address() as AddressInfo).port;
  };

  beforeAll(async () => {
    cpSync(built, folder, { recursive: true });
    await serve();
    page = await tablet.open();
    await page.goto(`http://localhost:${port}`);
    await waitUntilOffline(page);
  });
  afterAll(async () => {
    await tablet.discard();
    await server.close();
    rmSync(join(folder, '..'), { recursive: true, force: true });
  });

  it('can be installed: a manifest with a name, a start and icons that are there', async () => {
    const href = await page.locator('link[rel=manifest]').getAttribute('href');
    const manifest = await (await page.request.get(new URL(href!, page.url()).href)).json();
    expect(manifest).toMatchObject({ name: 'Lehrbook', display: 'standalone', start_url: '/' });
    const sizes = manifest.icons.map((icon: { sizes: string }) => icon.sizes);
    expect(sizes).toEqual(expect.arrayContaining(['192x192', '512x512']));
    for (const { src } of manifest.icons)
      expect((await page.request.get(new URL(src, page.url()).href)).status()).toBe(200);
  });

  it('serves with a strict content policy that the app keeps to', async () => {
    const answer = await page.request.get(page.url());
    expect(answer.headers()['content-security-policy']).toContain("script-src 'self'");
    expect(answer.headers()['x-content-type-options']).toBe('nosniff');
  });

  it('opens every place with the server gone and the browser started anew', async () => {
    await openPractice(page);
    await server.close();
    await tablet.close();
    page = await tablet.open();
    await page.goto(`http://localhost:${port}`);
    for (const [path, name] of [
      ['/', 'Now'],
      ['/sequence', 'Sequence'],
      ['/survey', 'Survey'],
      ['/record', 'Record'],
      ['/setup?part=tablet', 'Setup'],
      ['/hold/H03', 'Hold point'],
    ] as const) {
      await go(page, path);
      await expect.poll(() => page.locator('h1').textContent()).toBe(name);
    }
  });

  it('says in Setup what the browser answered about keeping the storage', async () => {
    await go(page, '/setup?part=tablet');
    const granted = await page.evaluate(() => navigator.storage.persisted());
    const words = page.locator('main');
    await expect.poll(() => words.innerText()).toMatch(granted ? /granted|keeps/i : /refused|not promise|may clear/i);
  });

  it('offers a new version, holds it back while a reading is open, and uses it when told', async () => {
    appendFileSync(join(folder, 'sw.js'), '\n// a later version\n');
    await serve();
    await go(page, '/survey/5.1/tub-diameter-20');
    await readingField(page).fill('3217.4');
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    const offer = page.getByRole('complementary', { name: 'New version' });
    await offer.waitFor();
    await expect.poll(() => offer.innerText()).toContain('waits until what you typed is saved');
    await expect.poll(() => offer.getByRole('button').count()).toBe(0);
    await readingField(page).fill('');
    const loaded = page.waitForEvent('load');
    await offer.getByRole('button', { name: 'Use it now' }).click();
    await loaded;
    await readingField(page).waitFor();
    await expect.poll(() => offer.count()).toBe(0);
    expect(tablet.problems).toEqual([]);
  });
});
