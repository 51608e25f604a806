import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sizes, TestServer, TestTabletBrowser } from './harness.ts';
import { go, openPractice } from './steps.ts';

const DAY_MS = 86_400_000;

describe('the sequence in time', () => {
  const tablet = new TestTabletBrowser();
  let server: TestServer;
  let page: Page;

  beforeAll(async () => {
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await openPractice(page);
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
  });

  const line = (id: string) => page.locator('a.bar-line').filter({ has: page.getByText(id, { exact: true }) });
  const words = async (id: string) => (await line(id).innerText()).replace(/\s+/g, ' ');
  const stage = (name: string) => page.getByRole('button', { name });

  it('says when it will be finished, and how late that is', async () => {
    await go(page, '/sequence');
    await expect.poll(() => page.locator('.finish').innerText()).toContain('late against plan');
    const finish = await page.locator('.finish').innerText();
    const said = /Forecast of the finish (.*), (\d+) days late against plan \((.*)\)/.exec(
      finish.replace(/\s+/g, ' '),
    )!;
    const [forecast, days, planned] = said.slice(1);
    // The difference of the two dates is the slip, to the day.
    expect(Math.abs((Date.parse(forecast!) - Date.parse(planned!)) / DAY_MS - Number(days))).toBeLessThanOrEqual(1);
    expect(finish).toMatch(/Next hold point\s+H03/);
  });

  it('has the stage in work unfolded, and unfolds others', async () => {
    await expect
      .poll(() => words('5.1'))
      .toMatch(/Tub survey after preheat since \d+ \w+, forecast to .*late against plan; float \d+ days/);
    await expect.poll(() => words('H03')).toMatch(/open, forecast \d+ \w+/);
    await expect.poll(() => line('6.2').isVisible()).toBe(false);
    await stage('6 Cores').click();
    // Nobody has begun to receive cores: that holds the end now.
    await line('6.2').waitFor();
    await expect.poll(() => words('6.2')).toMatch(/late against plan; critical, no float/);
    expect(await line('6.2').locator('.lane-chain').count()).toBe(1);
    await stage('6 Cores').click();
    await expect.poll(() => line('6.2').isVisible()).toBe(false);
  });

  it('draws what was solid up to now, and what is forecast open from there', async () => {
    await page.getByText('3 weeks').click();
    const box = async (of: string) => (await line('5.1').locator(of).boundingBox())!;
    const [was, ahead, now] = [await box('.lane-was'), await box('.lane-ahead'), await box('.lane-now')];
    const index = now.x + now.width / 2;
    expect(Math.abs(was.x + was.width - index)).toBeLessThan(3);
    expect(Math.abs(ahead.x - index)).toBeLessThan(3);
    await page.getByRole('button', { name: 'Later' }).click();
    // Half a window on, now lies before it.
    await expect.poll(() => line('5.1').locator('.lane-now').count()).toBe(0);
    await page.getByRole('button', { name: 'Earlier' }).click();
    await expect.poll(async () => Math.abs((await box('.lane-now')).x - now.x)).toBeLessThan(2);
  });

  it('opens an operation from its bar, and tells there what comes before it and why', async () => {
    await stage('12 Lift').click();
    await line('12.4').locator('.lane').click();
    await page.getByRole('heading', { level: 1, name: 'Operation' }).waitFor();
    await page.getByText('What comes before it, and why').click();
    const order = page.locator('details[open]').filter({ hasText: 'What comes before it' });
    expect(await order.innerText()).toContain('It may begin 168 h after 12.3 Bond pads is finished.');
    expect(await order.innerText()).toContain('The bond cures for seven days');
    expect(await order.innerText()).toContain('hold point H11');
    // It may still be begun: nothing is refused.
    expect(await page.getByRole('button', { name: 'Start operation' }).isEnabled()).toBe(true);
  });

  it('lists the same with floats and slips in words', async () => {
    await go(page, '/sequence');
    await page.getByText('List', { exact: true }).click();
    const rows = page.locator('.sequence-row');
    await expect.poll(() => rows.count()).toBe(40);
    for (const text of await rows.locator('.sequence-time').allInnerTexts())
      expect(text).toMatch(
        /(on plan|(day|hour)s? (late|early) against plan)(; (critical, )?(no float|float \d+ (hour|day)s?))?$/,
      );
  });

  it('prints on one landscape page', async () => {
    await page.setViewportSize(sizes.landscape);
    await go(page, '/sequence');
    await page.locator('.bar-line').first().waitFor();
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(/\/Count (\d+)/.exec(pdf)?.[1]).toBe('1');
    const [, width, height] = /MediaBox *\[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf)!;
    // ISO 216: A4 is 210 by 297 mm.
    expect([Math.round((Number(width) / 72) * 25.4), Math.round((Number(height) / 72) * 25.4)]).toEqual([297, 210]);
    await page.emulateMedia({ media: 'print' });
    await expect.poll(() => page.locator('a.bar-line:visible').count()).toBe(52);
    await page.emulateMedia({ media: 'screen' });
    expect(tablet.problems).toEqual([]);
  });
});
