import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Lab } from '../bench/lab.ts';
import { firstScreenKept, tabletWith } from '../bench/measures.ts';
import type { TestTabletBrowser } from './harness.ts';

const NOTE = 'A lamp is out on';

/** A log too long to be read before the first screen: what that screen says must be true, and nothing typed on it lost. */
describe('the first frame of a long log', () => {
  let lab: Lab;
  let tablet: TestTabletBrowser;
  let page: Page;
  let leads: string[];

  const open = async (): Promise<void> => {
    page = await tablet.open();
    await page.goto(lab.app('/'));
  };
  const leadsOf = (): Promise<string[]> => page.locator('.now-next h2, .due-round h2, .now-lead').allInnerTexts();
  const wholeLog = (): Promise<void> =>
    page.getByRole('heading', { name: 'The log is being read' }).waitFor({ state: 'detached', timeout: 60_000 });
  const kept = (change: object): Promise<void> =>
    page.evaluate((part) => {
      const frame = JSON.parse(localStorage.getItem('first frame')!);
      localStorage.setItem('first frame', JSON.stringify({ ...frame, ...part }));
    }, change);

  beforeAll(async () => {
    lab = await Lab.open();
    ({ tablet, page } = await tabletWith(lab, 1_700));
    await firstScreenKept(page);
    leads = await leadsOf();
    await lab.endApp();
  });
  afterAll(async () => {
    await tablet.discard();
    await lab.close();
  });

  it('says what the whole log says, with no server', async () => {
    await tablet.close();
    await open();
    await page.locator('.now-lead').first().waitFor();
    expect(await leadsOf()).toEqual(leads);
    await wholeLog();
    expect(await leadsOf()).toEqual(leads);
  });

  it('adds what is typed at once to a note that was left unsaved', async () => {
    await page.getByLabel('Note', { exact: true }).fill(NOTE);
    await expect.poll(() => page.evaluate(draftsKept)).toContain(NOTE);
    await tablet.close();
    page = await tablet.open();
    await page.addInitScript(typeAtOnce);
    await page.goto(lab.app('/'));
    await expect.poll(() => page.getByLabel('Note', { exact: true }).inputValue()).toBe(`${NOTE} gate 7`);
    await wholeLog();
    expect(await page.getByLabel('Note', { exact: true }).inputValue()).toBe(`${NOTE} gate 7`);
  });

  it('goes when the database holds another log than it was kept for', async () => {
    await firstScreenKept(page);
    const state = await page.evaluate(() => JSON.parse(localStorage.getItem('first frame')!).state);
    await kept({ stamp: 'an older log', state: { ...state, next: { ...state.next, title: 'Something long done' } } });
    await tablet.close();
    await open();
    await expect.poll(leadsOf, { timeout: 60_000 }).toEqual(leads);
    await wholeLog();
    expect(await leadsOf()).toEqual(leads);
    expect(tablet.problems).toEqual([]);
  });

  it('names a sealed part whose bytes were changed, and lets people go on with the rest', async () => {
    const place = await page.evaluate(changeOneByte, -1);
    await tablet.close();
    await open();
    await wholeLog();
    await page.getByText('Part of the record is damaged: see Record').first().waitFor();
    await page.goto(lab.app('/record?part=chains'));
    await page.getByText(`segment ${place}`).first().waitFor();
    await page.goto(lab.app('/'));
    await page.getByLabel('Note', { exact: true }).fill('noted beside the damage');
    await page.getByRole('button', { name: 'Add note' }).click();
    await page.getByText(/^Saved:/).waitFor();
  });

  it('says so when the beginning is damaged, without which nothing can be shown', async () => {
    await page.evaluate(changeOneByte, 0);
    await tablet.close();
    await open();
    await page.getByText('This tablet cannot open its log').waitFor({ timeout: 60_000 });
    expect(await page.getByRole('alert').innerText()).toContain('Do not clear this tablet');
  });
});

/** In the page: changes a byte in the middle of a sealed segment, of the last one by -1. @returns its number */
async function changeOneByte(which: number): Promise<number> {
  const name = (await indexedDB.databases()).find((d) => /^lehrbook-[0-9a-f]/.test(d.name ?? ''))!.name!;
  const done = <T>(asked: IDBRequest<T>) =>
    new Promise<T>((resolve, reject) => {
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error);
    });
  const db = await done(indexedDB.open(name));
  const row = (await done(db.transaction('segments').objectStore('segments').getAll())).at(which);
  row.gz[Math.floor(row.gz.length / 2)] ^= 1;
  await done(db.transaction('segments', 'readwrite').objectStore('segments').put(row));
  db.close();
  return row.n;
}

/** In the page: the text of every draft. */
async function draftsKept(): Promise<string> {
  const texts: unknown[] = [];
  for (const { name } of await indexedDB.databases()) {
    if (!name?.startsWith('lehrbook-')) continue;
    const db = await new Promise<IDBDatabase>((resolve) => {
      const asked = indexedDB.open(name);
      asked.onsuccess = () => resolve(asked.result);
    });
    const rows = db.transaction('drafts').objectStore('drafts').getAll();
    texts.push(await new Promise((resolve) => (rows.onsuccess = () => resolve(rows.result))));
    db.close();
  }
  return JSON.stringify(texts);
}

/** In the page: types as soon as the field stands, before any storage can have answered. */
function typeAtOnce(): void {
  const watch = new MutationObserver(() => {
    const field = document.querySelector<HTMLInputElement>('.note-form input');
    if (!field) return;
    watch.disconnect();
    field.value = ' gate 7';
    field.dispatchEvent(new InputEvent('input', { bubbles: true }));
  });
  watch.observe(document, { childList: true, subtree: true });
}
