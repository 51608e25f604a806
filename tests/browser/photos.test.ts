import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { addPhoto, picture, sha256, storedPhotos, take, withExif } from './pictures.ts';
import { become, go, openPractice } from './steps.ts';

const OPERATION = '/sequence/2.1#photos';
const MAKE = 'Camera maker of a test';

const thumbs = (page: Page) => page.getByRole('list', { name: 'Whole floor' }).locator('img[src^="blob:"]');
const dialog = (page: Page) => page.locator('dialog[open]').last();

describe('photos on one tablet', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
    await waitUntilOffline(page);
    await server.kill();
  });
  afterAll(async () => {
    await tablet.discard();
  });

  it('are shrunk upright, without what the camera wrote beside the picture, and lie here under the hash of their bytes', async () => {
    await become(page, 'Milo Quist');
    await go(page, OPERATION);
    // Orientation 6: the camera was held upright, the file's rows are the picture's columns (CIPA DC-008, Orientation).
    const file = withExif(await picture(page, 2400, 1800), 6, MAKE);
    await addPhoto(page, 'Add photo: Whole floor', file, 'From the north gate');
    await thumbs(page).first().waitFor();
    const blobs = await storedPhotos(page);
    expect(blobs).toHaveLength(2);
    for (const { hash, text } of blobs) {
      expect(sha256(text)).toBe(hash);
      expect([text.includes('Exif'), text.includes(MAKE)]).toEqual([false, false]);
    }
    const sides = await thumbs(page)
      .first()
      .evaluate((img: HTMLImageElement) => [img.naturalWidth, img.naturalHeight]);
    expect(sides).toEqual([240, 320]);
  });

  it('keeps a photo that was taken and not saved, with its words, when the app is closed', async () => {
    await page.getByRole('button', { name: 'Add photo: Scribed origin' }).click();
    await take(page, await picture(page, 800, 600, 1));
    await dialog(page).getByRole('textbox').fill('Origin, from above');
    await tablet.close();
    page = await tablet.open();
    await page.goto(`${server.address}${OPERATION}`);
    await page.getByText('1 photo not saved yet').click();
    await expect.poll(() => dialog(page).getByRole('textbox').inputValue()).toBe('Origin, from above');
    await dialog(page).locator('img[src^="blob:"]').waitFor();
    await page.getByRole('button', { name: 'Save 1 photo' }).click();
    await page.getByRole('list', { name: 'Scribed origin' }).locator('img').waitFor();
  });

  it('shows them after the browser was started anew with no server, and opens one whole', async () => {
    await tablet.close();
    page = await tablet.open();
    await page.goto(`${server.address}${OPERATION}`);
    await thumbs(page).first().waitFor();
    await addPhoto(page, 'Add photo: Whole floor', await picture(page, 1200, 900, 2), 'From the south');
    await thumbs(page).nth(1).waitFor();
    await thumbs(page).first().click();
    const whole = page.locator('.photo-whole img[src^="blob:"]');
    await page.getByRole('heading', { name: 'Photo 1 of 2' }).waitFor();
    await whole.waitFor();
    await expect
      .poll(() => whole.evaluate((img: HTMLImageElement) => [img.naturalWidth, img.naturalHeight]))
      .toEqual([1536, 2048]);
    expect(await whole.getAttribute('alt')).toBe('Whole floor: From the north gate');
    await page.keyboard.press('ArrowRight');
    await page.getByRole('heading', { name: 'Photo 2 of 2' }).waitFor();
    await page.keyboard.press('Escape');
    await expect.poll(() => page.locator('dialog[open]').count()).toBe(0);
  });

  it('says what it cannot read, and keeps the photo taken before', async () => {
    await page.getByRole('button', { name: 'Add photo: Each replaced tile' }).click();
    await take(page, await picture(page, 600, 400, 3));
    const broken = { name: 'picture.heic', mimeType: 'image/heic', buffer: Buffer.from('ftypheic, and no picture') };
    await dialog(page).getByLabel('From the gallery').setInputFiles(broken);
    await dialog(page).getByRole('alert').getByText('not-a-photo').waitFor();
    expect(await dialog(page).locator('.photo-small').count()).toBe(1);
    const before = (await storedPhotos(page)).length;
    await dialog(page).getByRole('button', { name: 'Leave photo 1 out' }).click();
    await expect.poll(async () => (await storedPhotos(page)).length).toBe(before - 2);
  });

  it('takes words in place of photos where there is nothing to take one of', async () => {
    await page.getByRole('button', { name: 'There is none to take' }).click();
    await dialog(page).getByText('say why there is nothing').waitFor();
    await dialog(page).getByRole('textbox').fill('no tile was replaced');
    await page.getByRole('button', { name: 'There is none to take' }).click();
    await page.getByText('none to take: no tile was replaced').waitFor();
    await page.getByText('3 of 3 wanted').waitFor();
  });

  it('says when the storage is full, keeps what was typed and taken, and entries go on', async () => {
    await page.getByRole('button', { name: /^Add photo: Operation 2.1/ }).click();
    await dialog(page).getByRole('textbox').fill('Typed before');
    // What a full disk does to a write, for photos alone.
    await page.evaluate(() => {
      const add = IDBObjectStore.prototype.add;
      IDBObjectStore.prototype.add = function (this: IDBObjectStore, ...what: Parameters<typeof add>) {
        if (this.name === 'blobs') throw new DOMException('no room', 'QuotaExceededError');
        return add.apply(this, what);
      };
    });
    await dialog(page)
      .getByLabel('From the gallery')
      .setInputFiles(await picture(page, 500, 400, 4));
    await dialog(page).getByRole('alert').getByText('storage-full').waitFor();
    await expect.poll(() => dialog(page).getByRole('textbox').inputValue()).toBe('Typed before');
    await page.keyboard.press('Escape');
    await page.getByLabel('New note').fill('The storage is full');
    await page.getByRole('button', { name: 'Add note' }).click();
    await page.getByRole('listitem').getByText('The storage is full').waitFor();
  });

  it('takes them with a finding, a note and at a station, and shows them there and with their entries', async () => {
    await go(page, '/sequence/5.1');
    await page.getByRole('button', { name: 'Raise a finding' }).click();
    await dialog(page).getByText('Something else, in own words').click();
    await dialog(page).getByLabel('Title').fill('Chip at the cove');
    await dialog(page)
      .getByText(/^minor/)
      .click();
    await take(page, await picture(page, 700, 500, 5));
    await page.getByRole('button', { name: 'Raise it' }).click();
    await page.getByRole('link', { name: /Chip at the cove/ }).click();
    await page.getByRole('img', { name: 'Chip at the cove' }).waitFor();
    await addPhoto(page, 'Add photo: Chip at the cove', await picture(page, 700, 500, 6), 'With a scale');
    await page.getByRole('img', { name: 'With a scale' }).waitFor();
    await page.getByLabel('New note').fill('Rubbed smooth');
    await take(page, await picture(page, 700, 500, 7), 'section:has(#notes)');
    await page.getByRole('button', { name: 'Add note' }).click();
    await page.getByRole('img', { name: 'Rubbed smooth' }).waitFor();
    await go(page, '/survey/5.1/tub-diameter-20?station=97.5%40380');
    await addPhoto(page, /^Photo: Station/, await picture(page, 700, 500, 8));
    await page.getByRole('button', { name: '1 photo' }).click();
    await dialog(page).getByRole('img').click();
    await page.getByRole('link', { name: 'Its entry' }).click();
    await page.getByRole('heading', { level: 1, name: 'Entry' }).waitFor();
    await page.locator('main img[src^="blob:"]').waitFor();
    expect(tablet.problems).toEqual([]);
  });
});
