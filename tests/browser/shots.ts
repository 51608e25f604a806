/**
 * Takes a picture of every screen of the practice casting at the three sizes in both themes:
 * `npx tsx tests/browser/shots.ts DIR [name …]`. Needs a build (`npm run build`).
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { sizes, TestServer, TestTabletBrowser } from './harness.ts';
import { screens, setTheme, show, themes } from './screens.ts';
import { openPractice } from './steps.ts';

const [folder = 'shots', ...wanted] = process.argv.slice(2);
mkdirSync(folder, { recursive: true });
const server = await TestServer.start();
const tablet = new TestTabletBrowser();
const page = await tablet.open();
await page.goto(server.address);
await openPractice(page);
for (const screen of screens.filter((s) => wanted.length === 0 || wanted.includes(s.name))) {
  for (const [size, box] of Object.entries(sizes)) {
    await page.setViewportSize(box);
    for (const theme of themes) {
      await setTheme(page, theme);
      try {
        await show(page, screen);
        await page.screenshot({ path: join(folder, `${screen.name}-${size}-${theme}.png`) });
      } catch (error) {
        console.error(`${screen.name} ${size} ${theme}: ${error}`);
      }
    }
  }
}
await tablet.discard();
await server.kill();
for (const problem of tablet.problems) console.error(problem);
