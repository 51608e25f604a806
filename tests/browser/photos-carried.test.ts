import type { Page, Request } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { castingOf } from './beside.ts';
import { TestTabletBrowser } from './harness.ts';
import { addPhoto, picture, sha256, storedPhotos } from './pictures.ts';
import { joinFromStart, joinServer, KilledServer, line, SERVER, SYNCED } from './server-steps.ts';
import { become, go, openPractice } from './steps.ts';

const OPERATION = '/sequence/2.1';

/** The small photos of a line of the plan's list that show themselves. */
const thumbs = (page: Page, wanted: string) => page.getByRole('list', { name: wanted }).locator('img[src^="blob:"]');

/** The first byte of the part that a request for a blob sends, or asks for. */
function startOf(request: Request): number {
  const { 'content-range': put, range: get } = request.headers();
  return Number(/(\d+)-/.exec(put ?? get ?? '')?.[1] ?? 0);
}

/** Parts of blobs that a page sends or asks for. */
function partsOf(page: Page, method: 'PUT' | 'GET'): { hash: string; start: number }[] {
  const parts: { hash: string; start: number }[] = [];
  page.on('request', (request) => {
    const hash = /\/sync\/blobs\/([0-9a-f]{64})$/.exec(request.url())?.[1];
    if (hash && request.method() === method) parts.push({ hash, start: startOf(request) });
  });
  return parts;
}

const BLOBS = '**/sync/blobs/*';

/** From now on nothing but the first part of a photo gets through, until the route is taken away. */
async function cutLater(page: Page, method: 'PUT' | 'GET'): Promise<{ cuts: number }> {
  const counted = { cuts: 0 };
  await page.route(BLOBS, async (route) => {
    const request = route.request();
    if (request.method() !== method || startOf(request) === 0) return route.continue();
    counted.cuts += 1;
    return route.abort('connectionfailed');
  });
  return counted;
}

describe('photos of two tablets over the network', () => {
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  const server = new KilledServer({});
  let a: Page;
  let b: Page;

  beforeAll(async () => {
    await server.start();
    a = await first.open();
    b = await second.open();
    await a.goto(server.address);
    await openPractice(a);
    await go(a, SERVER);
    await joinServer(a, await server.firstCode());
    await line(a).getByText(SYNCED).waitFor();
    const casting = await castingOf(a);
    await b.goto(server.address);
    await joinFromStart(b, await server.code(casting), 'Lift tablet');
    await line(b).getByText(SYNCED).waitFor();
  });
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.discard();
  });

  it('arrive at the other with the same bytes, the small one first', async () => {
    await become(a, 'Milo Quist');
    await go(b, OPERATION);
    const asked = partsOf(b, 'GET');
    await go(a, OPERATION);
    await addPhoto(a, 'Add photo: Whole floor', await picture(a, 1000, 750, 1), 'From the north gate');
    await thumbs(b, 'Whole floor').first().waitFor({ timeout: 60_000 });
    await expect.poll(async () => (await storedPhotos(b)).length, { timeout: 60_000 }).toBe(2);
    const [onA, onB] = [await storedPhotos(a), await storedPhotos(b)];
    expect(onB).toEqual(onA);
    for (const { hash, text } of onB) expect(sha256(text)).toBe(hash);
    const small = onB.reduce((least, blob) => (blob.text.length < least.text.length ? blob : least));
    expect(asked[0]!.hash).toBe(small.hash);
  });

  it('go on where a PUT broke off, and say at the other tablet meanwhile what it has and who has the rest', async () => {
    const sent = partsOf(a, 'PUT');
    const cut = await cutLater(a, 'PUT');
    await addPhoto(a, 'Add photo: Scribed origin', await picture(a, 2600, 1950, 2), 'From above');
    await expect.poll(() => cut.cuts, { timeout: 60_000 }).toBeGreaterThan(0);
    await thumbs(b, 'Scribed origin').first().waitFor({ timeout: 60_000 });
    await thumbs(b, 'Scribed origin').first().click();
    await b.getByText('This is the small one.').waitFor();
    await expect.poll(() => b.locator('.photo-waits').innerText()).toContain('Hall tablet took it');
    await a.unroute(BLOBS);
    await b.locator('.photo-waits').waitFor({ state: 'detached', timeout: 60_000 });
    const whole = b.locator('.photo-whole img[src^="blob:"]');
    await expect.poll(() => whole.evaluate((img: HTMLImageElement) => img.naturalWidth)).toBe(2048);
    await b.keyboard.press('Escape');
    const large = sent.filter(({ hash }) => sent.some((s) => s.hash === hash && s.start > 0));
    // Its first part went once: what the server had was not sent again.
    expect(large.filter(({ start }) => start === 0)).toHaveLength(1);
    expect(large.length).toBeGreaterThan(2);
  });

  it('go on where fetching broke off, after the browser was started anew', async () => {
    const cut = await cutLater(b, 'GET');
    await addPhoto(a, 'Add photo: Each replaced tile', await picture(a, 2600, 1950, 3), 'Tile 12');
    await expect.poll(() => cut.cuts, { timeout: 60_000 }).toBeGreaterThan(0);
    await second.close();
    b = await second.open();
    const asked = partsOf(b, 'GET');
    await b.goto(`${server.address}${OPERATION}`);
    await thumbs(b, 'Each replaced tile').first().waitFor({ timeout: 60_000 });
    const sorted = async (page: Page) => (await storedPhotos(page)).map(({ hash }) => hash).sort();
    await expect.poll(async () => (await sorted(b)).length, { timeout: 60_000 }).toBe(6);
    expect(await sorted(b)).toEqual(await sorted(a));
    expect(Math.min(...asked.map(({ start }) => start))).toBeGreaterThan(0);
    expect([...first.problems, ...second.problems]).toEqual([]);
  });
});
