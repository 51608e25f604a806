import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { go, openPractice } from './steps.ts';

describe('the editor of a heat plan', () => {
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

  it('shows the curve, the whole time and the stress of each rate', async () => {
    await go(page, '/furnace');
    await page.getByRole('link', { name: /^Heat plans/ }).click();
    await page.getByRole('combobox', { name: 'Heat plan' }).selectOption('P4');
    await page
      .getByText(/698\.0\s*h/)
      .first()
      .waitFor();
    await page.getByRole('img', { name: /Heat plan P4 from 565 °C/ }).waitFor();
    await page.getByRole('combobox', { name: 'Segment' }).selectOption('3');
    await page.getByText(/The glass sets on this way/).waitFor();
  });

  it('says what a faster rate does, and keeps what was typed', async () => {
    await page.getByLabel(/^Rate, up or down/).fill('0,3');
    await page
      .getByText(/Faster than the plan permits/)
      .first()
      .waitFor();
    await page
      .getByText(/398\.0\s*h/)
      .first()
      .waitFor();
    await page.reload();
    await page
      .getByText(/Faster than the plan permits/)
      .first()
      .waitFor();
    await expect.poll(() => page.getByLabel(/^Rate, up or down/).inputValue()).toBe('0,3');
    await page.getByLabel(/^Rate, up or down/).fill('-1');
    await page.getByRole('alert').getByText('It must be above 0 K/h.').waitFor();
    await page.getByLabel(/^Rate, up or down/).fill('0.2');
  });

  it('adds a segment and takes one out, and takes both back', async () => {
    const whole = (hours: RegExp) => page.getByText(hours).first().waitFor();
    await page.getByRole('button', { name: 'Add a soak after segment 3' }).click();
    await page.getByRole('heading', { name: 'Segment 4' }).waitFor();
    await page.getByRole('textbox', { name: 'Soak' }).fill('10');
    await page.getByText('One segment was added or taken out', { exact: false }).waitFor();
    // What was typed of segment 3 stands: 0.2 K/h there, and ten hours more.
    await whole(/558\.0\s*h/);
    await page.getByRole('button', { name: 'Take segment 4 out' }).click();
    await page.getByRole('heading', { name: 'Segment 3' }).waitFor();
    await whole(/548\.0\s*h/);
    await page.getByRole('button', { name: 'Undo the last change of segments' }).click();
    await whole(/558\.0\s*h/);
    await page.getByRole('button', { name: 'Undo the last change of segments' }).click();
    await page.getByRole('heading', { name: 'Segment 3' }).waitFor();
    await whole(/548\.0\s*h/);
    // An alarm watches segment 3.
    await page.getByRole('button', { name: 'Take segment 3 out' }).click();
    await page
      .getByRole('alert')
      .getByText(/^Segment 3 cannot be taken out: alarm .* watches it\.$/)
      .waitFor();
    await whole(/548\.0\s*h/);
  });

  it('goes on to the revision that a process engineer signs', async () => {
    await page.getByRole('link', { name: 'Go on to the revision' }).click();
    await page.getByRole('heading', { level: 1, name: /^Revision/ }).waitFor();
    const changes = page.locator('.plan-list');
    await changes.getByText(/0\.2/).first().waitFor();
    await page.getByLabel('Reason for the revision').fill('the pairs stay together at this rate');
    await page.getByRole('button', { name: 'See what it would do' }).click();
    await page.getByRole('heading', { name: /^Sign revision/ }).waitFor();
  });

  it('is as it was on request', async () => {
    await go(page, '/heat/plan/P4?segment=3');
    await page.getByRole('button', { name: 'As it was' }).click();
    await page.getByText('Nothing is changed yet.').waitFor();
    await page
      .getByText(/698\.0\s*h/)
      .first()
      .waitFor();
  });

  it('showed no error on the way', () => {
    expect(tablet.problems).toEqual([]);
  });
});
