import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { faultWords } from '../../shared/logbook/faults.ts';
import type { Body, Role } from '../../shared/logbook/kinds.ts';
import { handoverBody, prepareHandover, promptKey } from '../../shared/logbook/state/handover.ts';
import { holdById, holdState } from '../../shared/logbook/state/holds.ts';
import { unsoundWords } from '../../shared/logbook/state/signing-obstacles.ts';
import type { CrewKey } from '../../shared/practice/crew.ts';
import type { CarriedLine } from '../../shared/sync/file-batch.ts';
import type { CrewTablet } from '../practice/crew-tablet.ts';
import { viewOfLines } from '../practice/practice-world.ts';
import { ReadyForGlass } from '../practice/ready-for-glass.ts';
import { CarriedFiles, openFile, TABLETS } from './by-file.ts';
import { TestServer, TestTabletBrowser } from './harness.ts';
import { become, go } from './steps.ts';

const ENGINEER = 'Edda Lorn';
const HOLD = '/hold/H05';
const SIGNERS = [
  ['engineer', 'process-engineer'],
  ['quality', 'quality'],
  ['customer', 'customer'],
] as const satisfies readonly (readonly [CrewKey, Role])[];

/** A casting before glass, and a file in which seven tablets hand on what certifies nothing, each for a reason of its own. */
async function makeFaulty(): Promise<{
  ready: ReadyForGlass;
  base: string;
  faulty: string;
  heavy: CrewTablet;
}> {
  const ready = await ReadyForGlass.make(Date.now());
  const [forged, cut, copied, newer, roleless, retired, alone] = [
    await ready.addTablet('Forged tablet', ['quality']),
    await ready.addTablet('Cut tablet', ['technician']),
    await ready.addTablet('Copied tablet', ['technician']),
    await ready.addTablet('Newer tablet', ['technician']),
    await ready.addTablet('Roleless tablet', ['technician']),
    await ready.addTablet('Retired tablet', ['customer']),
    await ready.addTablet('Lone tablet', ['engineer', 'quality', 'customer']),
  ];
  const changed = await ready.addTablet('Changed tablet', ['technician']);
  const heavy = await ready.addTablet('Heavy tablet', ['lead', 'technician']);
  const base = await ready.file();

  const release = async (texts: readonly string[], name: string, role: Role): Promise<Body<'release'>> => {
    const view = await viewOfLines(ready.casting, texts);
    const { evidence, evidenceHash } = holdState(view, holdById(view, 'H05')!);
    return { hold: 'H05', plan: view.planHash, evidence: [...evidence], evidenceHash, meaning: 'seen', name, role };
  };
  const before = ready.texts();
  await forged!.forge('release', await release(before, 'Milo Quist', 'quality'), 'quality');
  await roleless!.write('release', await release(before, 'Joel Kast', 'quality'), 'technician');
  await retired!.write('release', await release(before, 'Sana Wells', 'customer'), 'customer');
  await ready.retireKey(retired!.people.customer!.signer.publicKey);
  newer!.writeUnknown('technician');
  for (const tablet of [cut!, copied!, changed])
    for (const text of ['one', 'two', 'three']) await tablet.write('note', { operation: '7.3', text }, 'technician');
  alone!.merge(cut!);
  const cores = ready.plan.stationSets.C!;
  for (const [i, [who]] of SIGNERS.entries()) {
    const hash = ready.readingAt('7.2', 'core-top-height', cores[i]!.id);
    const body = ready.body<'reading'>(hash);
    await alone!.write('reading', { ...body, observer: alone!.people[who]!.id, replaces: hash }, who);
  }
  const known = [...ready.texts(), ...alone!.lines.map((l) => l.text)];
  const view = await viewOfLines(ready.casting, known);
  for (const [who, role] of SIGNERS) {
    const { name } = view.standing.person(alone!.people[who]!.id)!;
    await alone!.write('release', await release(known, name, role), who);
  }

  const lines: CarriedLine[] = [
    ...ready.linesAfter(before.length),
    ...[forged!, copied!, newer!, roleless!, retired!, alone!].flatMap((t) => t.lines),
    copied!.copyOfLast('three, said otherwise'),
    ...cut!.lines.filter((_, i) => i !== 1),
  ];
  const sound = await ready.batches(changed.lines);
  const faulty = (await ready.batches(lines)) + sound.replace('"two"', '"twO"');
  return { ready, base, faulty, heavy };
}

const MANY = 40;
const LONG_ANSWER =
  'Said at length, since much is open: who has which key, which lamp is left on, what the next shift looks at first. ';

/** A shift in which more happened than a page holds, handed over by its lead. @returns the lines, and the handover's hash. */
async function heavyShift(ready: ReadyForGlass, tablet: CrewTablet): Promise<{ lines: CarriedLine[]; hash: string }> {
  const operation = '7.3';
  const owner = tablet.people.lead!.id;
  const words = 'Seen on the way round; looked at again on the next, with a lamp, and no different then.';
  const cores = ready.plan.stationSets.C!;
  for (let i = 0; i < MANY; i++) {
    const severity = (['critical', 'major', 'minor'] as const)[i % 3]!;
    const title = `Chip ${i + 1} on the rim of a core, seen from the platform`;
    await tablet.write('finding', { operation, title, words, severity, blocks: 'H05' }, 'technician');
    await tablet.write('note', { operation, text: `${i + 1}. ${words}` }, 'technician');
    await tablet.write('strike', { target: tablet.lines.at(-1)!.hash, reason: 'written twice' }, 'lead');
    await tablet.write('operation', { operation, mark: i % 2 ? 'finished' : 'started', words }, 'lead');
    const arrangement = String(i).padStart(32, '0');
    const subject = { kind: 'other' } as const;
    const what = `Lamp lead ${i + 1} over the rail, tied with tape`;
    await tablet.write(
      'arrangement',
      { arrangement, operation, what, subject, owner, endsAt: null, endsWhen: 'the fitter has been', reason: words },
      'lead',
    );
    if (i % 2) await tablet.write('arrangement-end', { arrangement, operation, words }, 'lead');
    const hash = ready.readingAt('7.2', 'core-top-height', cores[i % cores.length]!.id);
    const read = ready.body<'reading'>(hash);
    const value = read.value + 20;
    const typed = { ...read.typed, text: String(value), value };
    await tablet.write('reading', { ...read, value, typed, verdict: 'outside', replaces: hash }, 'technician');
  }
  const view = await viewOfLines(ready.casting, [...ready.texts(), ...tablet.lines.map((l) => l.text)]);
  const prepared = prepareHandover(view, Date.now());
  const said = prepared.items.flatMap(({ item, prompts }) =>
    prompts.map((prompt) => [promptKey(item, prompt), LONG_ANSWER.repeat(3)] as const),
  );
  const body = handoverBody(view, prepared, Object.fromEntries(said), view.standing.person(owner)!.name);
  const { hash } = await tablet.write('handover', body, 'lead');
  return { lines: tablet.lines, hash };
}

describe('a file that holds what certifies nothing', () => {
  const tablet = new TestTabletBrowser();
  const files = new CarriedFiles();
  let server: TestServer;
  let page: Page;
  let made: Awaited<ReturnType<typeof makeFaulty>>;

  beforeAll(async () => {
    made = await makeFaulty();
    server = await TestServer.start();
    page = await tablet.open();
    await page.goto(server.address);
    await files.joinFrom(files.written(made.base), page, 'Mould tablet');
  });
  afterEach(async ({ task }) => {
    if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/${task.name.slice(0, 20)}.png` });
  });
  afterAll(async () => {
    await tablet.discard();
    await server.kill();
    files.discard();
  });

  const words = async (place: string): Promise<string> =>
    (await page.locator(place).first().innerText()).replace(/\s+/g, ' ');

  it('names each before it is taken in: what stays out, and what would be kept and count for nothing', async () => {
    await go(page, TABLETS);
    await openFile(page, files.written(made.faulty));
    const said = await files.takeIn(page);
    expect(said).toContain('Entry 2 of Changed tablet stays out: it, or one after it, was changed or is missing');
    expect(said).toContain('Copied tablet wrote two different entries at place 3');
    for (const fault of ['signature-wrong', 'role-missing', 'key-retired', 'unknown-kind', 'gap', 'fork'] as const)
      expect(said, fault).toContain(faultWords[fault]);
    expect(said).not.toContain('Released with it');
  });

  it('does not release the hold point, and says there what it lacks and what is not counted', async () => {
    await go(page, HOLD);
    await page.locator('.hold-uncounted').waitFor();
    expect(await words('.hold-gate .gate-word')).not.toBe('released');
    const missing = await words('#missing');
    expect(missing).toContain('The signatures do not release it');
    expect(missing).toContain(unsoundWords['nobody-independent']);
    expect(missing).toContain('2 of Cut tablet');
    expect(missing).toContain('2 of Changed tablet');
    expect(missing).toContain('not so: Copied tablet');
    expect(missing).toContain('not so: 1 of a newer kind');
    const uncounted = await words('.hold-uncounted');
    for (const fault of ['signature-wrong', 'role-missing', 'key-retired'] as const)
      expect(uncounted, fault).toContain(faultWords[fault]);
  });

  it('is told tablet by tablet beside the record, each with the first entry that it is about', async () => {
    await go(page, '/record');
    await page.getByText(/of Cut tablet does? not count/).waitFor();
    const chains = await words('.record-chains');
    for (const [name, fault] of [
      ['Forged tablet', 'signature-wrong'],
      ['Cut tablet', 'gap'],
      ['Changed tablet', 'gap'],
      ['Newer tablet', 'unknown-kind'],
      ['Roleless tablet', 'role-missing'],
      ['Retired tablet', 'key-retired'],
    ] as const)
      expect(chains, name).toContain(`1 entry of ${name} does not count ${faultWords[fault]}`);
    expect(chains).toContain(`2 entries of Copied tablet do not count ${faultWords.fork}`);
    expect(chains).toContain('written twice at place 3');
    expect(chains).toContain('2 entries that should be here are not');
    await page.getByRole('link', { name: /of Forged tablet does not count/ }).click();
    await page.getByRole('heading', { name: 'It does not count' }).waitFor();
  });

  it('leaves the rest usable: the other hold points stand, and work goes on being recorded', async () => {
    await go(page, '/hold/H04');
    await expect.poll(() => words('.hold-gate .gate-word')).toBe('released');
    await become(page, ENGINEER);
    await go(page, '/sequence/7.3');
    await page.getByLabel('New note').fill('The cover is sealed.');
    await page.getByRole('button', { name: 'Add note' }).click();
    await go(page, '/record');
    await page.getByText('The cover is sealed.').waitFor();
  });

  it('hands a heavy shift over on one page, which says how much it leaves out and where that stands', async () => {
    const { lines, hash } = await heavyShift(made.ready, made.heavy);
    await go(page, TABLETS);
    await openFile(page, files.written(await made.ready.batches(lines)));
    await files.takeIn(page);
    await go(page, `/handover/${hash}`);
    await page.locator('.ho-row').first().waitFor();
    const { items } = lines.at(-1)!.entry.body as unknown as Body<'handover'>;
    const all = items.reduce((sum, i) => sum + i.lines.length, 0);
    await page.emulateMedia({ media: 'print' });
    try {
      const printed = await page.locator('.ho-paper').innerText();
      expect(printed).toMatch(
        /left out of this page.* All of it stands on the tablet: Handover, or Record under the name below\./,
      );
      const left = Number(/(\d+) lines? (?:are|is) left out/.exec(printed)![1]);
      // What is there and what is left out are together what was handed over.
      expect((await page.locator('.ho-paper li > p:not(.ho-left)').count()) + left).toBe(all);
      for (const { title } of items) expect(printed).toContain(title);
      const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true });
      if (process.env.SHOTS) writeFileSync(`${process.env.SHOTS}/heavy.pdf`, pdf);
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g)).toHaveLength(1);
    } finally {
      await page.emulateMedia({ media: 'screen' });
    }
    expect(tablet.problems).toEqual([]);
  });
});
