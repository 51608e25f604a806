import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { limitsAt } from '../../shared/plan/lookup.ts';
import { ReadyForGlass } from '../practice/ready-for-glass.ts';
import { CarriedFiles, openFile, TABLETS } from './by-file.ts';
import { TestServer, TestTabletBrowser, waitUntilOffline } from './harness.ts';
import { become, go, readingField, typePin } from './steps.ts';

/** The crew of the casting that stands before glass; all take the same PIN. */
const PIN = '1234';
const TECHNICIAN = 'Joel Kast';
const ENGINEER = 'Edda Lorn';
const QUALITY = 'Milo Quist';
const CUSTOMER = 'Sana Wells';
/** Process engineer, quality and customer release the mould for glass. */
const SIGNERS = [ENGINEER, QUALITY, CUSTOMER];
const HOLD = '/hold/H05';
const TOP = ['7.2', 'core-top-height'] as const;

describe('two tablets offline that exchange by file, at the hold point before glass is loaded', () => {
  const [first, second] = [new TestTabletBrowser(), new TestTabletBrowser()];
  const files = new CarriedFiles();
  let server: TestServer;
  let ready: ReadyForGlass;
  let core: { id: string; label: string };
  let a: Page;
  let b: Page;

  beforeAll(async () => {
    ready = await ReadyForGlass.make(Date.now());
    core = ready.plan.stationSets.C![4]!;
    server = await TestServer.start();
    a = await first.open();
    b = await second.open();
    await a.goto(server.address);
    await b.goto(server.address);
  });
  afterEach(async ({ task }) => {
    if (task.result?.state !== 'fail' || !process.env.SHOTS) return;
    await a.screenshot({ path: `${process.env.SHOTS}/failed-a.png` });
    await b.screenshot({ path: `${process.env.SHOTS}/failed-b.png` });
  });
  afterAll(async () => {
    await first.discard();
    await second.discard();
    await server.kill();
    files.discard();
  });

  const dialog = (page: Page) => page.locator('dialog[open]');

  async function signAll(page: Page): Promise<void> {
    for (const name of SIGNERS) {
      await page.getByRole('button', { name: /^Sign( again)?$/ }).click();
      await dialog(page)
        .getByText(new RegExp(`^${name}`))
        .first()
        .click();
      await page.getByRole('button', { name: /^Sign with PIN/ }).click();
      await typePin(page, PIN);
      await page.locator('.hold-places').getByText(`${name},`).waitFor();
    }
    await page.locator('.gate-word', { hasText: /^released$/ }).waitFor();
  }

  async function type(page: Page, text: string): Promise<void> {
    await readingField(page).waitFor();
    await readingField(page).focus();
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    await expect.poll(() => readingField(page).count()).toBe(0);
  }

  const gate = async (page: Page): Promise<string> => {
    await go(page, HOLD);
    await page.locator('.hold-gate').waitFor();
    return (await page.locator('.hold-gate').innerText()).replace(/\s+/g, ' ');
  };

  /** Waits until the gate shows a state, in a word. */
  const stands = async (page: Page, word: string): Promise<void> => {
    await go(page, HOLD);
    await expect.poll(() => page.locator('.hold-gate .gate-word').innerText()).toBe(word);
  };

  const reasons = async (page: Page): Promise<string[]> => {
    await go(page, HOLD);
    await page.getByText('Why it is in doubt').waitFor();
    return page.locator('.hold-list ol').first().locator('li').allInnerTexts();
  };

  it('join the casting from one file, are admitted by its keeper, and stand before the same gate', async () => {
    const casting = files.written(await ready.file());
    const shown = await files.joinFrom(casting, a, 'Mould tablet');
    expect(await files.joinFrom(casting, b, 'Bench tablet')).toBe(shown);
    const requests = [
      { name: 'Mould tablet', text: readFileSync(await files.request(a, SIGNERS, PIN), 'utf8') },
      { name: 'Bench tablet', text: readFileSync(await files.request(b, [ENGINEER], PIN), 'utf8') },
    ];
    const admitted = files.written(await ready.admit(requests));
    for (const page of [a, b]) {
      await go(page, TABLETS);
      await openFile(page, admitted);
      await files.takeIn(page);
      await become(page, TECHNICIAN);
      await expect.poll(() => gate(page)).toContain('everything stands; the signatures are next');
      await waitUntilOffline(page);
    }
    // From here on there is no network.
    await server.kill();
  });

  it('say in doubt for the same reason after one released it and the other had struck a core reading before', async () => {
    await become(b, ENGINEER);
    await go(b, `/record/${ready.readingAt(...TOP, core.id)}`);
    await b.getByRole('button', { name: 'Strike it out' }).click();
    await dialog(b).getByRole('button', { name: 'Strike it out' }).click();
    await typePin(b, PIN);
    await b.getByText(/^Struck by/).waitFor();
    await become(b, TECHNICIAN);

    await go(a, HOLD);
    // The bench tablet and another have told it nothing: the signature says so before it is made, and after.
    const known = a
      .locator('.hold-seen')
      .getByText(/^A signature now is made from what \d of \d admitted tablets had /);
    const made = /from what \d of \d admitted tablets/.exec(await known.innerText())![0];
    expect(made).toBe('from what 2 of 4 admitted tablets');
    await signAll(a);
    expect((await gate(a)).match(new RegExp(`${made} had written by `, 'g'))).toHaveLength(SIGNERS.length);

    const said = await files.carry(b, a);
    expect(said).toContain('H05');
    expect(said).toContain('would fall into doubt');
    await files.carry(a, b);
    for (const page of [a, b]) await stands(page, 'in doubt');
    const onA = await reasons(a);
    expect(onA).toHaveLength(1);
    expect(onA.join(' ')).toContain(`Struck by ${ENGINEER}, on Bench tablet, not seen when it was signed`);
    expect(onA.join(' ')).toContain(core.label);
    expect(await reasons(b)).toEqual(onA);
    expect(await gate(b)).toBe(await gate(a));
  });

  it('agree again when it is measured and signed anew', async () => {
    await go(a, HOLD);
    await a.locator('#missing').getByRole('link', { name: 'Measure' }).first().click();
    await type(a, String(limitsAt(ready.plan, TOP[1], TOP[0], core.id).nominal));
    await go(a, HOLD);
    await signAll(a);
    await files.carry(a, b);
    for (const page of [a, b]) await stands(page, 'released');
  });

  it('stay released when the other measures again knowing the release', async () => {
    await go(b, `/survey/${TOP.join('/')}?station=${core.id}`);
    await b.getByRole('button', { name: 'Measure again' }).click();
    await type(b, String(limitsAt(ready.plan, TOP[1], TOP[0], core.id).nominal! + 0.1));
    const said = await files.carry(b, a);
    expect(said).not.toContain('would fall into doubt');
    for (const page of [a, b]) await stands(page, 'released');
    expect([...first.problems, ...second.problems]).toEqual([]);
  });
});
