import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { nextSteps, syncErrors } from '../../shared/sync/errors.ts';
import { KEEPER_USAGE } from '../../src/cli/keeper.ts';
import { numberSettings, settingNames } from '../../src/server/settings.ts';

const pageOf = (name: string): string =>
  readFileSync(fileURLToPath(new URL(`../../docs/${name}`, import.meta.url)), 'utf8');

/** The cells of every row of a page's tables. */
const rowsOf = (page: string): string[][] =>
  [...page.matchAll(/^\| (.*) \|$/gm)].map((m) => m[1]!.split(' | ').map((cell) => cell.trim()));

describe('the page about sync', () => {
  it('has the codes, statuses and words of the code, no more and no less', () => {
    const table = rowsOf(pageOf('sync.md').split('## Codes')[1]!).slice(2);
    expect(table).toEqual(
      Object.entries(syncErrors).map(([code, e]) => [`\`${code}\``, String(e.status), e.words, nextSteps[e.next]]),
    );
  });
});

describe('the page about the server', () => {
  const rows = rowsOf(pageOf('server.md').split('## Settings')[1]!.split('\n## ')[0]!).slice(2);

  it('names every setting, and none that is not there', () => {
    const named = rows.flatMap(([name]) => [...name!.matchAll(/`([A-Z_]+)`/g)].map((m) => m[1]!));
    expect(named.sort()).toEqual(settingNames);
  });

  it('says what each number is without its setting', () => {
    const said = Object.fromEntries(rows.map(([name, without]) => [name!.replaceAll('`', ''), without]));
    for (const [name, without] of Object.values(numberSettings))
      expect([name, said[name]]).toEqual([name, String(without)]);
  });

  it('shows every command of the keeper', () => {
    for (const command of KEEPER_USAGE.matchAll(/npm run server -- \w+/g))
      expect(pageOf('server.md')).toContain(command[0]);
  });
});
