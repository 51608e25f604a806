import { describe, expect, it } from 'vitest';
import type { ShownItem } from '../../src/tablet/screens/handover/item-content.tsx';
import { paperOf } from '../../src/tablet/screens/handover/paper-of.ts';

const item = (id: string, lines: readonly string[]): ShownItem => ({
  item: id,
  title: id,
  lines: lines.map((text) => ({ text, entries: [] })),
});
const nothing = new Map();

describe('a handover on one page', () => {
  it('is printed whole, larger or smaller, where it fits', () => {
    const short = paperOf([item('heat', ['No heat runs.'])], nothing);
    expect(short).toMatchObject({ dense: false, left: 0, cut: 0 });
    const long = paperOf(
      [
        item(
          'findings',
          Array.from({ length: 110 }, (_, i) => `finding ${i}`),
        ),
      ],
      nothing,
    );
    expect(long).toMatchObject({ dense: true, left: 0, cut: 0 });
    expect(long.items[0]!.lines).toHaveLength(110);
  });

  it('else shortens the longest items from their ends, keeps every item, and counts what it leaves out', () => {
    const many = Array.from({ length: 400 }, (_, i) => `finding ${i}`);
    const paper = paperOf([item('heat', ['runs']), item('findings', many), item('next', ['a', 'b'])], nothing);
    expect(paper.items.map((i) => [i.item, i.left > 0])).toEqual([
      ['heat', false],
      ['findings', true],
      ['next', false],
    ]);
    const findings = paper.items[1]!;
    expect(findings.lines.length + findings.left).toBe(400);
    expect(paper.left).toBe(findings.left);
    expect(findings.lines.map((l) => l.text)).toEqual(many.slice(0, findings.lines.length));
  });

  it('cuts a line that would fill the page by itself, and counts that', () => {
    const paper = paperOf(
      [
        item(
          'findings',
          [...Array(30)].map(() => 'w'.repeat(2000)),
        ),
      ],
      nothing,
    );
    expect(paper.cut).toBe(paper.items[0]!.lines.length);
    expect(paper.items[0]!.lines.every((l) => l.text.endsWith(' …'))).toBe(true);
  });

  it('counts as cut only what it cut itself, cuts no character in half, and cuts a long prompt too', () => {
    const fill = item(
      'findings',
      Array.from({ length: 400 }, (_, i) => `finding ${i}`),
    );
    const lines = [
      { text: 'and so on …', entries: [] },
      { text: `${'w'.repeat(229)}😀😀`, entries: [] },
      { text: 'yes', asked: 'why '.repeat(200), entries: [] },
    ];
    const paper = paperOf([{ ...item('people', []), lines }, fill], nothing);
    expect(paper.items[0]!.lines).toEqual([
      { text: 'and so on …' },
      { text: `${'w'.repeat(229)}😀 …`, cut: true },
      { text: 'yes', asked: `${'why '.repeat(25).trimEnd()} …`, cut: true },
    ]);
    expect(paper.cut).toBe(2);
  });

  it('prints refusals, what nobody answered, and what was asked in the talk', () => {
    const shown = {
      ...item('people', ['two']),
      unsaid: ['Permits open'],
      carried: [{ answer: 'h', reason: 'no key' }],
    };
    const talked = new Map([['people', { item: 'people', question: 'Who?', answer: 'Hanna', refused: 'not seen' }]]);
    expect(paperOf([shown], talked).items[0]!.lines).toEqual([
      { text: 'Refused before: no key', look: 'carried' },
      { text: 'Refused: not seen', look: 'carried' },
      { text: 'two' },
      { text: 'nothing said', asked: 'Permits open', look: 'unsaid' },
      { text: 'Asked: Who? Answered: Hanna', look: 'asked' },
    ]);
  });
});
