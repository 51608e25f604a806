import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, sha256Hex } from '../../shared/logbook/canonical.ts';
import { entryHash } from '../../shared/logbook/entry.ts';
import { type Body, readBody } from '../../shared/logbook/kinds.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { apart_K, channelsToRead, lastFigure } from '../../shared/logbook/state/handover/cross-check.ts';
import { momentsNow } from '../../shared/logbook/state/handover/moments.ts';
import {
  CARRIED_PROMPT,
  entriesSince,
  handoverBody,
  namesStage,
  type Prepared,
  prepareHandover,
  promptKey,
} from '../../shared/logbook/state/handover.ts';
import {
  carriedItems,
  handoverByHash,
  handoverStates,
  itemsToTalk,
  lastAccepted,
  openHandovers,
} from '../../shared/logbook/state/handovers.ts';
import { type View, viewOf } from '../../shared/logbook/state/view.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { type Plan, planSchema } from '../../shared/plan/schema.ts';
import { HOUR_MS, iso, planWithHeats, roundBody, START_MS, writeAt } from './heat-world.ts';
import { smallPlan } from './small-plan.ts';
import {
  type Line,
  lead,
  logOf,
  personKey,
  quality,
  reading,
  sheet,
  type TestPerson,
  type TestTablet,
  tablets,
  technician,
} from './world.ts';

const second: TestPerson = { id: sha256Hex('second lead').slice(0, 32), name: 'Second', roles: ['crew-lead'] };
const NOW_MS = Date.UTC(2026, 2, 1, 12);

const asking: Plan = planSchema.parse({
  ...smallPlan,
  handover: {
    always: ['People on site and fit', 'Temporary changes', 'What did not happen', 'Tablets not yet synced'],
    byStage: [],
    notDuring: ['A lift or turn'],
  },
});

/** Tablets that know two crew leads. */
function crewed(names: readonly string[], plan = asking): TestTablet[] {
  const all = tablets(names, plan);
  const [first, ...others] = all as [TestTablet, ...TestTablet[]];
  first.write('person', { person: second.id, name: second.name, roles: [...second.roles] }, lead, 4);
  for (const t of all)
    first.write('key', { person: second.id, key: personKey(second, t.name), device: t.device }, lead, 4);
  for (const other of others) other.merge(first);
  return all;
}

function prepare(tablet: TestTablet, by = lead, minute = 10, said: Record<string, string> = {}): Line {
  const view = tablet.view();
  return tablet.write('handover', handoverBody(view, prepareHandover(view, NOW_MS), said, by.name), by, minute);
}

const answer = (
  handover: Line,
  by: TestPerson,
  refused: Body<'handover-answer'>['refused'] = [],
): Body<'handover-answer'> => ({
  handover: handover.hash,
  refused,
  check: { readings: [], words: 'walked round it' },
  name: by.name,
  role: 'crew-lead',
});

const item = (p: Prepared, id: string) => p.items.find((i) => i.item === id)!;
const texts = (p: Prepared, id: string): string =>
  item(p, id)
    .lines.map((l) => l.text)
    .join('\n');

describe('preparing a handover', () => {
  it('tells what the log knows, and every line names entries that are in it', () => {
    const [tablet] = crewed(['A']);
    tablet!.write('sheet', sheet('1', { c1: 'yes', c2: 'no' }), technician, 20);
    tablet!.write('reading', reading('a', 102), technician, 21);
    const note = tablet!.write('note', { operation: '2', text: 'a smell of hot varnish' }, technician, 22);
    tablet!.write('strike', { target: note.hash, reason: 'mistyped' }, technician, 23);
    tablet!.write('note', { text: 'the crane is parked over the pit' }, technician, 24);
    const view = tablet!.view();
    const p = prepareHandover(view, NOW_MS);
    expect(texts(p, 'changes')).toContain('1 reading, 1 check sheet, 1 note');
    expect(texts(p, 'changes')).toContain('Struck by Technician, 00:23: note of operation 2: mistyped.');
    expect(texts(p, 'changes')).toContain('Note by Technician: the crane is parked over the pit.');
    expect(texts(p, 'changes')).not.toContain('varnish');
    expect(texts(p, 'findings')).toContain('major, open: width, station a: outside.');
    expect(texts(p, 'findings')).toContain('Answered no: second item');
    expect(texts(p, 'holds')).toContain('H1 before operation 3: open, 2 of 6 conditions met. Missing:');
    expect(texts(p, 'watch')).toContain('width at station a: 102.00 mm, outside.');
    expect(texts(p, 'next')).toContain('operation 2, under way');
    expect(texts(p, 'people')).toContain('Technician (4)');
    const hashes = p.items.flatMap((i) => i.lines.flatMap((l) => l.entries));
    expect(hashes.length).toBeGreaterThan(8);
    for (const hash of hashes) expect(view.log.get(hash), hash).toBeDefined();
  });

  it('asks the lead what only a person knows, keeps the answers, and names what was not said', () => {
    const [tablet] = crewed(['A']);
    const said = { [promptKey('people', 'People on site and fit')]: '  three, all fit ' };
    const { body } = prepare(tablet!, lead, 10, said).entry as unknown as { body: Body<'handover'> };
    const people = body.items.find((i) => i.item === 'people')!;
    // It rests on the word of who signs, and on the plan that asks.
    const plan = tablet!.lines.find((l) => l.entry.kind === 'plan')!.hash;
    expect(people.lines.at(-1)).toEqual({ text: 'three, all fit', entries: [plan], asked: 'People on site and fit' });
    expect(people.unsaid).toBeUndefined();
    expect(body.items.find((i) => i.item === 'temporary')!.unsaid).toEqual(['Temporary changes']);
    expect(body.items.find((i) => i.item === 'words')!.unsaid).toEqual(['What did not happen']);
    // What the tool does itself it does not ask.
    expect(JSON.stringify(body)).not.toContain('Tablets not yet synced');
  });

  it('goes on from the last accepted one, and tells what comes late from another tablet although it is older', () => {
    const [a, b] = crewed(['A', 'B']) as [TestTablet, TestTablet];
    b.write('reading', reading('b', 100), technician, 6);
    a.write('reading', reading('a', 100), technician, 7);
    const first = prepare(a);
    a.write('handover-answer', answer(first, second), second, 12);
    expect(lastAccepted(a.view())?.handover.hash).toBe(first.hash);
    expect(texts(prepareHandover(a.view(), NOW_MS), 'changes')).toContain('Nothing was recorded since');
    a.merge(b);
    const p = prepareHandover(a.view(), NOW_MS);
    expect(p.before?.handover.hash).toBe(first.hash);
    expect(texts(p, 'changes')).toContain('1 reading');
    expect(texts(p, 'changes')).toContain('Of these 1 came late: observed before the last handover');
    expect(entriesSince(a.view(), p.before!.handover).map((k) => k.entry.kind)).toEqual(
      expect.arrayContaining(['reading', 'handover-answer']),
    );
  });

  it('lists temporary arrangements that stand, each with its end and owner, and those ended since', () => {
    const [tablet] = crewed(['A']);
    const arrange = (n: number, what: string, endsAt: string | null) =>
      tablet!.write(
        'arrangement',
        {
          arrangement: String(n).repeat(32),
          operation: '2',
          what,
          subject: { kind: 'other' },
          owner: second.id,
          endsAt,
          endsWhen: endsAt === null ? 'the fitter has been' : null,
          reason: 'made for a test',
        },
        technician,
        10 + n,
      );
    const damper = arrange(1, 'Damper held by hand', new Date(NOW_MS - HOUR_MS).toISOString());
    arrange(2, 'Door propped', null);
    arrange(3, 'Lamp lead', null);
    tablet!.write(
      'arrangement-end',
      { arrangement: '3'.repeat(32), operation: '2', words: 'rolled up' },
      technician,
      20,
    );
    const p = prepareHandover(tablet!.view(), NOW_MS);
    expect(item(p, 'temporary').lines.map((l) => l.text)).toEqual([
      'past its end: Damper held by hand, until 11:00; owner Second.',
      'Door propped, until the fitter has been; owner Second.',
      'Ended: Lamp lead. rolled up.',
    ]);
    expect(item(p, 'temporary').lines[0]!.entries).toEqual([damper.hash]);
  });

  it('goes by the stage that its words name', () => {
    const named = (words: string) =>
      Array.from({ length: 14 }, (_, i) => String(i + 1)).filter((s) => namesStage(words, s));
    expect(named('1–2')).toEqual(['1', '2']);
    expect(named('4, 7 bake')).toEqual(['4', '7']);
    expect(named('11')).toEqual(['11']);
    const { byStage } = buildPlan(practiceDesign).handover;
    const all = Array.from({ length: 14 }, (_, i) => String(i + 1));
    expect(all.filter((stage) => !byStage.some((b) => namesStage(b.stages, stage)))).toEqual([]);
  });
});

/** The lines of a handover that name nothing that they rest on. */
const bare = (items: Body<'handover'>['items']): string[] =>
  items.flatMap((i) =>
    i.lines
      .filter((l) => l.entries.length === 0 && !l.operation && !l.hold && !l.finding && !l.place && !l.searched)
      .map((l) => `${i.item}: ${l.text}`),
  );

describe('every line of a handover', () => {
  const stored = (tablet: TestTablet, said: Record<string, string> = {}, minute = 10) => {
    const line = prepare(tablet, lead, minute, said);
    return { line, body: line.entry.body as unknown as Body<'handover'> };
  };

  it('says of each tablet what is known of and not here: nothing beyond a fork that is decided, one for a changed entry', () => {
    const [a, b, c] = crewed(['A', 'B', 'C']) as [TestTablet, TestTablet, TestTablet];
    const changed = (line: Line, value: number): Line => {
      const entry = { ...line.entry, body: { ...line.entry.body, value } };
      return { ...line, entry, hash: entryHash(entry) };
    };
    const lineOfB = () =>
      prepareHandover(a.view(), NOW_MS)
        .items.flatMap((i) => i.lines.map((l) => l.text))
        .find((t) => t.startsWith('B: '))!;
    const own = b.write('reading', reading('a', 100), technician, 12);
    const copied = changed(own, 99.5);
    a.log.add(copied.entry, copied.hash, copied.signature);
    c.merge(b);
    c.write('note', { text: 'has seen B' }, technician, 14);
    a.merge(c);
    // B's own entry is known, and another stands at its place.
    expect(lineOfB()).toMatch(/^B: 1 entry here, .* 1 entry more known of and not here\.$/);
    a.log.add(own.entry, own.hash, own.signature);
    a.write('adoption', { device: b.device, hash: own.hash, reason: 'the copy was not used' }, lead, 30);
    expect(lineOfB()).not.toContain('not here');
  });

  it('rests on entries, or names the operation, the place or the search of the record, also where nothing happened', () => {
    const [tablet] = crewed(['A', 'B']);
    const first = stored(tablet!);
    expect(bare(first.body.items)).toEqual([]);
    const lines = first.body.items.flatMap((i) => i.lines);
    expect(lines.find((l) => l.text === 'No finding is open.')).toMatchObject({ place: 'findings' });
    expect(lines.find((l) => l.text.startsWith('Nothing signed or refused'))!.searched).toEqual(['release', 'refusal']);
    expect(lines.find((l) => l.text.startsWith('B: 0 entries'))).toMatchObject({ entries: [], place: 'tablets' });
    // A shift in which nothing was done.
    tablet!.write('handover-answer', answer(first.line, second), second, 12);
    const { body } = stored(tablet!, {}, 14);
    expect(body.items.find((i) => i.item === 'changes')!.lines[0]).toMatchObject({
      text: expect.stringContaining('Nothing was recorded since'),
      entries: [],
      searched: expect.arrayContaining(['reading', 'note']),
    });
    expect(bare(body.items)).toEqual([]);
  });

  it('rests on something in a full shift too, and so does each answer of the lead', () => {
    const [tablet] = crewed(['A']);
    for (let i = 0; i < 12; i++)
      tablet!.write('finding', { operation: '2', title: `chip ${i}`, severity: 'minor', blocks: null }, technician, 20);
    tablet!.write('reading', reading('a', 102), technician, 21);
    tablet!.write('sheet', sheet('2', { c1: 'no' }), technician, 22);
    const said = Object.fromEntries(
      prepareHandover(tablet!.view(), NOW_MS).items.flatMap((i) =>
        i.prompts.map((asked) => [promptKey(i.item, asked), 'said'] as const),
      ),
    );
    const first = stored(tablet!, said, 30);
    expect(bare(first.body.items)).toEqual([]);
    const answers = first.body.items.flatMap((i) => i.lines.filter((l) => l.asked !== undefined));
    expect(answers.length).toBeGreaterThan(2);
    for (const { entries } of answers) expect(tablet!.view().log.get(entries[0]!)!.kind).toBe('plan');
    // Said again word for word, it names the handover in which it was said before.
    tablet!.write('handover-answer', answer(first.line, second), second, 32);
    const again = stored(tablet!, said, 34).body.items.flatMap((i) => i.lines.filter((l) => l.asked !== undefined));
    for (const { entries } of again) expect(entries).toContain(first.line.hash);
    for (const hash of first.body.items.flatMap((i) => i.lines.flatMap((l) => l.entries)))
      expect(tablet!.view().log.get(hash), hash).toBeDefined();
  });
});

describe('answering a handover', () => {
  it('is accepted by another crew lead with a signature, and by nobody else', () => {
    const [tablet] = crewed(['A']);
    const handover = prepare(tablet!);
    const status = () => handoverByHash(tablet!.view(), handover.hash)!.status;
    tablet!.write('handover-answer', answer(handover, lead), lead, 11);
    expect(status(), 'the outgoing lead').toBe('waiting');
    tablet!.write('handover-answer', answer(handover, technician), technician, 12);
    expect(status(), 'a technician who says crew lead').toBe('waiting');
    tablet!.write('handover-answer', { ...answer(handover, quality), role: 'quality' }, quality, 13);
    expect(status(), 'in another role').toBe('waiting');
    tablet!.write('handover-answer', answer(handover, second), second, 14, 'none');
    tablet!.write('handover-answer', answer(handover, second), second, 15, 'bad');
    expect(status(), 'without a good signature').toBe('waiting');
    expect(openHandovers(tablet!.view()).map((s) => s.handover.hash)).toEqual([handover.hash]);
    tablet!.write('handover-answer', answer(handover, second), second, 16);
    expect(status()).toBe('accepted');
    expect(openHandovers(tablet!.view())).toEqual([]);
  });

  it('counts no handover of somebody who is no crew lead', () => {
    const [tablet] = crewed(['A']);
    const view = tablet!.view();
    const body = handoverBody(view, prepareHandover(view, NOW_MS), {}, 'Technician');
    tablet!.write('handover', body, technician, 10);
    expect(handoverStates(tablet!.view())).toEqual([]);
  });

  it('waits again when its acceptance is struck', () => {
    const [tablet] = crewed(['A']);
    const handover = prepare(tablet!);
    const accepted = tablet!.write('handover-answer', answer(handover, second), second, 12);
    tablet!.write('strike', { target: accepted.hash, reason: 'wrong person signed in' }, second, 13);
    expect(openHandovers(tablet!.view()).map((s) => s.status)).toEqual(['waiting']);
  });

  it('stays open until a later one is written in knowledge of it', () => {
    const [a, b] = crewed(['A', 'B']) as [TestTablet, TestTablet];
    const one = prepare(a);
    const other = prepare(b, second);
    a.merge(b);
    expect(
      openHandovers(a.view())
        .map((s) => s.handover.hash)
        .sort(),
    ).toEqual([one.hash, other.hash].sort());
    const third = prepare(a, lead, 20);
    expect(openHandovers(a.view()).map((s) => s.handover.hash)).toEqual([third.hash]);
  });

  it('adds several talks up, the later word on an item standing', () => {
    const [tablet] = crewed(['A']);
    const handover = prepare(tablet!);
    const talk = (items: Body<'talk'>['items'], minute: number) =>
      tablet!.write('talk', { handover: handover.hash, incoming: second.id, items }, lead, minute);
    talk([{ item: 'heat' }, { item: 'holds', question: 'who signs?' }], 11);
    talk([{ item: 'holds', question: 'who signs?', answer: 'quality, at 09:00' }], 12);
    const state = handoverByHash(tablet!.view(), handover.hash)!;
    expect(state.talk.get('holds')).toEqual({ item: 'holds', question: 'who signs?', answer: 'quality, at 09:00' });
    expect(itemsToTalk(state)).toHaveLength(10);
    expect(state.incoming).toBe(second.id);
  });
});

describe('a refused item', () => {
  const refusal = [{ item: 'temporary', reason: 'nobody says who took the jumper out' }];

  it('carries over, asks what was done, and is settled by an accepted handover that answers it', () => {
    const [tablet] = crewed(['A']);
    const first = prepare(tablet!);
    const refused = tablet!.write('handover-answer', answer(first, second, refusal), second, 12);
    expect(handoverByHash(tablet!.view(), first.hash)!.status).toBe('refused');
    const p = prepareHandover(tablet!.view(), NOW_MS);
    expect(item(p, 'temporary').carried).toMatchObject([{ answer: refused.hash, reason: refusal[0]!.reason }]);
    expect(item(p, 'temporary').prompts[0]).toBe(CARRIED_PROMPT);

    const again = prepare(tablet!, lead, 20, { [promptKey('temporary', CARRIED_PROMPT)]: 'out, logged 13:05' });
    const { body } = again.entry as unknown as { body: Body<'handover'> };
    expect(body.items.find((i) => i.item === 'temporary')).toMatchObject({
      carried: [{ answer: refused.hash, reason: refusal[0]!.reason }],
      lines: [{}, { text: 'out, logged 13:05', asked: CARRIED_PROMPT, entries: [refused.hash] }],
    });
    // Prepared alone settles nothing.
    expect(carriedItems(tablet!.view())).toHaveLength(1);
    tablet!.write('handover-answer', answer(again, second), second, 22);
    expect(carriedItems(tablet!.view())).toEqual([]);
  });

  it('still waits after an acceptance that did not know of it', () => {
    const [a, b] = crewed(['A', 'B']) as [TestTablet, TestTablet];
    const first = prepare(a);
    b.merge(a);
    b.write('handover-answer', answer(first, second, refusal), second, 12);
    const blind = prepare(a, lead, 13);
    a.write('handover-answer', answer(blind, second), second, 14);
    a.merge(b);
    expect(lastAccepted(a.view())?.handover.hash).toBe(blind.hash);
    expect(carriedItems(a.view()).map((c) => c.item)).toEqual(['temporary']);
    expect(item(prepareHandover(a.view(), NOW_MS), 'temporary').carried).toHaveLength(1);
  });

  it('is taken back by an acceptance of the same handover that knew of it', () => {
    const [tablet] = crewed(['A']);
    const handover = prepare(tablet!);
    tablet!.write('handover-answer', answer(handover, second, refusal), second, 12);
    tablet!.write('handover-answer', answer(handover, second), second, 13);
    expect(handoverByHash(tablet!.view(), handover.hash)!.status).toBe('accepted');
    expect(carriedItems(tablet!.view())).toEqual([]);
  });

  it('keeps its place when the next handover has no such item', () => {
    const [tablet] = crewed(['A']);
    const handover = prepare(tablet!);
    const strange = [{ item: 'of another build', reason: 'not told' }];
    tablet!.write('handover-answer', answer(handover, second, strange), second, 12);
    expect(prepareHandover(tablet!.view(), NOW_MS).items.at(-1)).toMatchObject({
      item: 'of another build',
      prompts: [CARRIED_PROMPT],
    });
  });
});

describe('whatever the order of arrival', () => {
  it('gives the same handovers, refusals and preparation', () => {
    const [a, b] = crewed(['A', 'B']) as [TestTablet, TestTablet];
    a.write('reading', reading('a', 102), technician, 5);
    b.write('sheet', sheet('2', { c1: 'no' }), technician, 6);
    const first = prepare(a);
    b.merge(a);
    b.write('talk', { handover: first.hash, incoming: second.id, items: [{ item: 'heat' }] }, second, 11);
    b.write('handover-answer', answer(first, second, [{ item: 'holds', reason: 'not seen' }]), second, 12);
    a.write('reading', reading('b', 100), technician, 13);
    a.merge(b);
    const again = prepare(a, lead, 14);
    b.merge(a);
    b.write('handover-answer', answer(again, second), second, 15);
    a.merge(b);
    const third = prepare(a, second, 16);
    const all = [...a.lines, ...b.lines];
    const said = (view: View) => ({
      prepared: prepareHandover(view, NOW_MS).items,
      states: handoverStates(view).map((s) => [s.handover.hash, s.status, [...s.talk], s.refusals.map((r) => r.hash)]),
      open: openHandovers(view).map((s) => s.handover.hash),
      carried: carriedItems(view),
    });
    const expected = said(a.view());
    expect(expected.open).toEqual([third.hash]);
    expect(expected.states.map(([, status]) => status)).toEqual(['refused', 'accepted', 'waiting']);
    fc.assert(
      fc.property(fc.shuffledSubarray(all, { minLength: all.length }), (lines) => {
        expect(said(viewOf(logOf(a.casting, lines), judge)!)).toEqual(expected);
      }),
      { seed: 11, numRuns: 40 },
    );
  });

  it('answers after each entry what a log that was never asked before answers', () => {
    const [a] = crewed(['A']);
    const first = prepare(a!);
    a!.write('handover-answer', answer(first, second), second, 12);
    a!.write('reading', reading('a', 102), technician, 13);
    prepare(a!, second, 14);
    const log = logOf(a!.casting, []);
    a!.lines.forEach(({ entry, hash, signature }, i) => {
      log.add(entry, hash, signature);
      const kept = viewOf(log, judge);
      const fresh = viewOf(logOf(a!.casting, a!.lines.slice(0, i + 1)), judge);
      expect(kept && prepareHandover(kept, NOW_MS).items).toEqual(fresh && prepareHandover(fresh, NOW_MS).items);
    });
  });
});

describe('a body of a later build', () => {
  it('is read without the keys that this build does not know', () => {
    const [tablet] = crewed(['A']);
    const view = tablet!.view();
    const body = handoverBody(view, prepareHandover(view, NOW_MS), {}, lead.name);
    const later = JSON.parse(
      canonicalJson({ ...body, weather: 'rain', items: body.items.map((i) => ({ ...i, rank: 1 })) }),
    );
    expect(readBody('handover', later)).toEqual(JSON.parse(canonicalJson(body)));
  });
});

describe('a heat in a handover', () => {
  const practice = buildPlan(practiceDesign);
  const P1 = practice.heatPlans.find((p) => p.id === 'P1')!;
  const channel = (id: string, group: string, pair?: string): Plan['channels'][number] => ({
    id,
    type: 'S',
    unit: '°C',
    where: 'crown',
    group,
    key: true,
    ...(pair ? { pair } : {}),
  });
  const plan = planSchema.parse({
    ...planWithHeats([P1]),
    channels: [
      channel('WU-1', P1.control[0]!, 'WL-1'),
      channel('WL-1', P1.control[0]!),
      channel('WU-2', P1.control[0]!),
      channel('WL-2', P1.control[0]!),
    ],
  });
  const at = (hours: number): number => START_MS + hours * HOUR_MS;
  const row = (id: string, value: number, more: object = {}) => ({
    channel: id,
    typed: { text: String(value), unit: '°C', value },
    value,
    state: 'good' as const,
    ...more,
  });

  function heated(): TestTablet {
    const [tablet] = crewed(['A'], plan);
    const operation = P1.operations[0]!;
    writeAt(tablet!, 'operation', { operation, mark: 'started', heat: P1.id }, iso(START_MS));
    const round = (hours: number, rows: ReturnType<typeof row>[]) =>
      writeAt(tablet!, 'round', roundBody(P1, { readings: rows }, operation), iso(at(hours)));
    round(0, [row('WU-1', 20), row('WL-1', 20), row('WU-2', 20), row('WL-2', 20)]);
    round(2, [
      row('WU-1', 44),
      row('WL-1', 41),
      row('WU-2', 40),
      row('WL-2', 900, { state: 'suspect', words: 'drifts' }),
    ]);
    return tablet!;
  }

  it('has something behind each line, before it is begun, while it runs and when it has ended', () => {
    const [cold] = crewed(['A'], plan);
    const lines = (tablet: TestTablet, at_ms: number) => {
      const view = tablet.view();
      return bare(handoverBody(view, prepareHandover(view, at_ms), {}, lead.name).items);
    };
    expect(lines(cold!, NOW_MS)).toEqual([]);
    const tablet = heated();
    expect(lines(tablet, at(7))).toEqual([]);
    writeAt(tablet, 'operation', { operation: P1.operations.at(-1)!, mark: 'finished' }, iso(at(8)));
    expect(lines(tablet, at(30))).toEqual([]);
  });

  it('says hour, segment, planned temperature and band as its plan has them', () => {
    const p = prepareHandover(heated().view(), at(5));
    // By hand from the plan's own table: the first ramp rises from 20 °C at its rate, so 5 h of it at 10 K/h is 70 °C.
    const { to_C, rate_K_h, band_K } = P1.segments[0]!;
    const planned = P1.start_C + 5 * rate_K_h!;
    expect(planned).toBeLessThan(to_C);
    expect(texts(p, 'heat')).toContain(`hour 5.0: segment 1, to ${to_C} °C at ${rate_K_h} K/h, 5.0 h in it`);
    expect(texts(p, 'heat')).toContain(
      `Planned ${planned.toFixed(1)} °C, band ${(planned - band_K).toFixed(1)} to ${(planned + band_K).toFixed(1)}.`,
    );
    expect(texts(p, 'heat')).toContain(
      'Last round 08:00: 3 of 4 control channels, mean 41.7 °C, +1.7 K off the plan: within; spread 4.0 of',
    );
  });

  it('counts the rounds that were written and missed, each missed one with its reason', () => {
    const tablet = heated();
    tablet.write('note', { about: 'round/P1/3', text: 'alone at the gas alarm' }, technician, 0);
    const p = prepareHandover(tablet.view(), at(7));
    expect(texts(p, 'rounds')).toContain(
      'P1: 2 of 4 rounds since the start of the casting written, 0 of them late, 1 missed.',
    );
    expect(texts(p, 'rounds')).toContain('Round 3 missed, due 10:00: alone at the gas alarm.');
    expect(texts(p, 'rounds')).toContain('Round 4, full, was due');
  });

  it('names the channel that is suspect, and the widest pair with how it was before', () => {
    const p = prepareHandover(heated().view(), at(5));
    expect(texts(p, 'watch')).toContain('WL-2 suspect since 08:00: drifts.');
    expect(texts(p, 'watch')).toContain('Widest pair WU-1 − WL-1: 0.0 K at 06:00, +3.0 K at 08:00.');
  });

  it('has the incoming lead read three channels that nobody chose, good ones only, against the last figures', () => {
    const view = heated().view();
    const drawn = Array.from({ length: 60 }, (_, i) => channelsToRead(view, sha256Hex(String(i))));
    for (const channels of drawn) {
      expect(channels).toHaveLength(3);
      expect(new Set(channels.map((c) => c.channel.id)).size).toBe(3);
      expect(channels.map((c) => c.channel.id)).not.toContain('WL-2');
    }
    expect(new Set(drawn.map((d) => d.map((c) => c.channel.id).join())).size).toBeGreaterThan(3);
    expect(channelsToRead(view, sha256Hex('7'))).toEqual(channelsToRead(view, sha256Hex('7')));
    const [wu1] = drawn.flat().filter((c) => c.channel.id === 'WU-1');
    expect(lastFigure(wu1!)).toBe(44);
    expect(channelsToRead(crewed(['A'])[0]!.view(), sha256Hex('7'))).toEqual([]);
    expect(apart_K(wu1!, 50)).toBe(6);
    // Type S against 0 °C: 9.587 mV at 1000 °C, 8.449 mV at 900 °C (NIST Monograph 175, ITS-90 reference tables).
    const emf = { ...wu1!, unit: 'mV', last: { ...wu1!.last, row: { ...wu1!.last.row, value: 900, junction_C: 0 } } };
    expect(apart_K(emf, 9.587)).toBeCloseTo(100, 0);
    expect(apart_K(emf, 99)).toBeNull();
  });

  it('warns in the moments that the plan names, and in no other', () => {
    const [from] = P1.segments.map((s) => s.rate_K_h ?? 0);
    const first_h = (P1.segments[0]!.to_C - P1.start_C) / from!;
    const operation = P1.operations[0]!;
    const plan2 = planSchema.parse({
      ...plan,
      operations: [...plan.operations, { ...plan.operations[0]!, id: '9', name: 'spin-up', heatPlan: null }],
      handover: {
        always: [],
        byStage: [],
        notDuring: [],
        moments: [
          { words: 'Spin-up', operations: ['9'] },
          { words: 'Before the soak', ahead: { operation: '9', heatPlan: 'P1', segment: 2, hours: 1 } },
        ],
      },
    });
    const [tablet] = crewed(['A'], plan2);
    writeAt(tablet!, 'operation', { operation, mark: 'started', heat: P1.id }, iso(START_MS));
    expect(momentsNow(tablet!.view(), at(first_h - 1.1))).toEqual([]);
    expect(momentsNow(tablet!.view(), at(first_h - 0.9))).toEqual(['Before the soak']);
    writeAt(tablet!, 'operation', { operation: '9', mark: 'started' }, iso(at(first_h)));
    expect(momentsNow(tablet!.view(), at(first_h + 0.1))).toEqual(['Spin-up']);
    const body = handoverBody(tablet!.view(), prepareHandover(tablet!.view(), at(first_h)), {}, 'Lead');
    expect(body.moments).toEqual(['Spin-up']);
    writeAt(tablet!, 'operation', { operation: '9', mark: 'finished' }, iso(at(first_h + 1)));
    expect(momentsNow(tablet!.view(), at(first_h + 2))).toEqual([]);
  });

  it('warns while a band is re-tensioned: some stations read, some not', () => {
    const measuring = planSchema.parse({
      ...smallPlan,
      handover: { always: [], byStage: [], notDuring: [], moments: [{ words: 'Re-tensioning', measuring: 'width' }] },
    });
    const [tablet] = crewed(['A'], measuring);
    expect(momentsNow(tablet!.view(), NOW_MS)).toEqual([]);
    tablet!.write('reading', reading('a', 100), technician, 5);
    expect(momentsNow(tablet!.view(), NOW_MS)).toEqual(['Re-tensioning']);
    for (const station of ['b', 'c']) tablet!.write('reading', reading(station, 100), technician, 6);
    expect(momentsNow(tablet!.view(), NOW_MS)).toEqual([]);
  });

  it('knows each moment of the practice plan by something that the plan has', () => {
    const { moments = [], notDuring } = practice.handover;
    expect(moments.map((m) => m.words)).toEqual(notDuring);
    for (const { operations = [], measuring, ahead } of moments) {
      for (const id of operations)
        expect(
          practice.operations.some((o) => o.id === id),
          id,
        ).toBe(true);
      if (measuring) expect(practice.characteristics.some((c) => c.id === measuring)).toBe(true);
      if (!ahead) continue;
      const heat = practice.heatPlans.find((h) => h.id === ahead.heatPlan)!;
      // The first ramp down behind the soak at the peak is the fast cool.
      const peak = Math.max(...heat.segments.map((s) => s.to_C));
      const soak = heat.segments.findLastIndex((s) => s.to_C === peak);
      expect([ahead.segment, heat.segments[ahead.segment - 1]!.to_C < peak]).toEqual([soak + 2, true]);
    }
  });
});
