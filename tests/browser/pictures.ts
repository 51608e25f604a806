import { createHash } from 'node:crypto';
import type { Page } from 'playwright-core';

/** A file as a chooser gives it. */
export interface TestFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/** A picture as a camera makes it: a JPEG of so many pixels, a dark crack on glass with a scale; `turn` makes each its own. */
export async function picture(page: Page, width: number, height: number, turn = 0): Promise<TestFile> {
  const url = await page.evaluate(
    ([w, h, angle]) => {
      const canvas = document.createElement('canvas');
      canvas.width = w!;
      canvas.height = h!;
      const pen = canvas.getContext('2d')!;
      pen.fillStyle = `hsl(${150 + angle! * 40} 18% 62%)`;
      pen.fillRect(0, 0, w!, h!);
      // Grain, so that it packs as badly as a photo does.
      const tile = document.createElement('canvas');
      tile.width = tile.height = 256;
      const grain = new ImageData(256, 256);
      let state = 1 + angle!;
      for (let i = 0; i < grain.data.length; i += 4) {
        state = (state * 48_271) % 2_147_483_647;
        grain.data.fill(state % 256, i, i + 3);
        grain.data[i + 3] = 90;
      }
      tile.getContext('2d')!.putImageData(grain, 0, 0);
      pen.fillStyle = pen.createPattern(tile, 'repeat')!;
      pen.fillRect(0, 0, w!, h!);
      pen.strokeStyle = '#14211b';
      pen.lineWidth = w! / 240;
      pen.beginPath();
      pen.moveTo(w! * 0.12, h! * (0.3 + angle! * 0.05));
      for (let i = 1; i < 12; i++) pen.lineTo(w! * (0.12 + i * 0.06), h! * (0.3 + angle! * 0.05 + (i % 3) * 0.04));
      pen.stroke();
      pen.fillStyle = 'white';
      pen.fillRect(w! * 0.1, h! * 0.8, w! * 0.8, h! * 0.08);
      pen.fillStyle = 'black';
      for (let i = 0; i <= 20; i++) pen.fillRect(w! * (0.1 + i * 0.04), h! * 0.8, w! / 400, h! * (i % 5 ? 0.03 : 0.06));
      return canvas.toDataURL('image/jpeg', 0.9);
    },
    [width, height, turn],
  );
  return { name: `picture-${turn}.jpg`, mimeType: 'image/jpeg', buffer: Buffer.from(url.split(',')[1]!, 'base64') };
}

/**
 * Puts an EXIF part into a JPEG: which way up it is, and a maker's name. Layout after CIPA DC-008 (Exif 2.3), sections
 * 4.5 and 4.6: APP1, "Exif", a TIFF header, one directory with Make (271) and Orientation (274).
 */
export function withExif(file: TestFile, orientation: number, make: string): TestFile {
  const name = Buffer.from(`${make}\0`, 'latin1');
  const tiff = Buffer.alloc(8 + 2 + 2 * 12 + 4 + name.length);
  tiff.write('II', 0, 'latin1');
  tiff.writeUInt16LE(42, 2);
  tiff.writeUInt32LE(8, 4);
  tiff.writeUInt16LE(2, 8);
  const field = (at: number, tag: number, type: number, count: number, value: number) => {
    tiff.writeUInt16LE(tag, at);
    tiff.writeUInt16LE(type, at + 2);
    tiff.writeUInt32LE(count, at + 4);
    tiff.writeUInt32LE(value, at + 8);
  };
  field(10, 271, 2, name.length, 38);
  field(22, 274, 3, 1, orientation);
  name.copy(tiff, 38);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const head = Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255]);
  return { ...file, buffer: Buffer.concat([file.buffer.subarray(0, 2), head, body, file.buffer.subarray(2)]) };
}

/** Gives a file to the chooser of the form that is open, and waits until it stands there shrunk. */
export async function take(page: Page, file: TestFile | TestFile[], scope = 'dialog[open]'): Promise<void> {
  const field = page.locator(scope).last();
  const before = await field.locator('.photo-small').count();
  await field.getByLabel('From the gallery').setInputFiles(file);
  await field
    .locator('.photo-small')
    .nth(before + (Array.isArray(file) ? file.length : 1) - 1)
    .waitFor();
}

/** Takes one photo through the button of that name, with words, and saves it. */
export async function addPhoto(page: Page, button: string | RegExp, file: TestFile, words = ''): Promise<void> {
  await page.getByRole('button', { name: button }).first().click();
  await take(page, file);
  if (words) await page.locator('dialog[open]').last().getByRole('textbox').fill(words);
  await page.getByRole('button', { name: /^Save \d+ photo/ }).click();
  await page.getByRole('button', { name: /^Save \d+ photo/ }).waitFor({ state: 'detached' });
}

/** What the tablet's storage holds of photos: each blob's name, and its bytes as Latin-1. */
export const storedPhotos = (page: Page): Promise<{ hash: string; text: string }[]> =>
  page.evaluate(async () => {
    const name = (await indexedDB.databases()).map((d) => d.name!).find((n) => /^lehrbook-[0-9a-f]/.test(n))!;
    const db = await new Promise<IDBDatabase>((resolve, reject) => {
      const opening = indexedDB.open(name);
      opening.onsuccess = () => resolve(opening.result);
      opening.onerror = () => reject(opening.error);
    });
    const rows = await new Promise<{ hash: string; bytes: Uint8Array }[]>((resolve) => {
      const asking = db.transaction('blobs').objectStore('blobs').getAll();
      asking.onsuccess = () => resolve(asking.result);
    });
    db.close();
    return rows.map(({ hash, bytes }) => ({
      hash,
      text: bytes.reduce((text, b) => text + String.fromCharCode(b), ''),
    }));
  });

/** SHA-256 of bytes given as Latin-1, in hex, by Node. */
export const sha256 = (text: string): string => createHash('sha256').update(Buffer.from(text, 'latin1')).digest('hex');
