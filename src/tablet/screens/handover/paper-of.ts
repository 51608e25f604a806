import type { TalkedItem } from '../../../../shared/logbook/state/handovers.ts';
import type { ShownItem } from './item-content.tsx';

/** One line on the paper. */
export interface PaperLine {
  readonly text: string;
  readonly asked?: string;
  readonly look?: 'carried' | 'unsaid' | 'asked';
  /** The page has not all of it. */
  readonly cut?: true;
}

export interface PaperItem {
  readonly item: string;
  readonly title: string;
  readonly lines: readonly PaperLine[];
  /** How many of its lines are left out. */
  readonly left: number;
}

export interface Paper {
  readonly items: readonly PaperItem[];
  /** In the smaller type. */
  readonly dense: boolean;
  /** Lines left out in all. */
  readonly left: number;
  /** Lines that are cut short. */
  readonly cut: number;
}

interface Type {
  /** Characters that surely fit on one row of a column; taken low, since figures and capitals run wide. */
  readonly row: number;
  /** Rows on two columns, less what breaks between them may waste. */
  readonly rows: number;
}

/** Measured on A4 with the margins of the printed page; held by a test in Chromium. */
const plain: Type = { row: 52, rows: 100 };
const dense: Type = { row: 62, rows: 122 };

/** A line is cut before a page is broken: what is left out stands on the tablet. */
const LONGEST = 230;
const LONGEST_ASKED = 100;
const LEAST_LINES = 1;

/**
 * A handover as it goes on one page: larger type where it fits, else smaller, else with the longest items shortened from
 * their ends, which the page says.
 */
export function paperOf(items: readonly ShownItem[], talked: ReadonlyMap<string, TalkedItem>): Paper {
  const all = items.map((i) => ({ item: i.item, title: i.title, lines: linesOf(i, talked.get(i.item)), left: 0 }));
  if (rowsOf(all, plain) <= plain.rows) return { items: all, dense: false, left: 0, cut: 0 };
  if (rowsOf(all, dense) <= dense.rows) return { items: all, dense: true, left: 0, cut: 0 };
  const shown = all.map((i) => ({ ...i, lines: i.lines.map(shortened) }));
  while (rowsOf(shown, dense) > dense.rows) {
    const longest = shown
      .filter((i) => i.lines.length > LEAST_LINES)
      .sort((a, b) => itemRows(b, dense) - itemRows(a, dense))[0];
    if (!longest) break;
    longest.lines = longest.lines.slice(0, -1);
    longest.left += 1;
  }
  const cut = shown.flatMap((i) => i.lines).filter((l) => l.cut).length;
  return { items: shown, dense: true, left: shown.reduce((sum, i) => sum + i.left, 0), cut };
}

function linesOf({ lines, unsaid = [], carried = [] }: ShownItem, talked: TalkedItem | undefined): PaperLine[] {
  return [
    ...carried.map(({ reason }): PaperLine => ({ text: `Refused before: ${reason}`, look: 'carried' })),
    ...(talked?.refused ? [{ text: `Refused: ${talked.refused}`, look: 'carried' } as const] : []),
    ...lines.map(({ text, asked }): PaperLine => ({ text, ...(asked ? { asked } : {}) })),
    ...unsaid.map((asked): PaperLine => ({ text: 'nothing said', asked, look: 'unsaid' })),
    ...(talked?.question
      ? [
          {
            text: `Asked: ${talked.question} ${talked.answer ? `Answered: ${talked.answer}` : 'Not answered.'}`,
            look: 'asked',
          } as const,
        ]
      : []),
  ];
}

function shortened(line: PaperLine): PaperLine {
  const text = atMost(LONGEST, line.text);
  const asked = line.asked && atMost(LONGEST_ASKED, line.asked);
  if (text === line.text && asked === line.asked) return line;
  return { ...line, text, ...(asked ? { asked } : {}), cut: true };
}

/** Cut between characters: some take two places of a string. */
function atMost(longest: number, text: string): string {
  const characters = Array.from(text);
  return characters.length > longest ? `${characters.slice(0, longest).join('').trimEnd()} …` : text;
}

const rowsOf = (items: readonly PaperItem[], type: Type): number =>
  items.reduce((sum, item) => sum + itemRows(item, type), 0);

/** Its title, its lines as they wrap, and the line that says what is left out. */
const itemRows = ({ lines, left }: PaperItem, { row }: Type): number =>
  1 +
  lines.reduce((sum, l) => sum + Math.ceil(((l.asked?.length ?? 0) + 2 + l.text.length) / row), 0) +
  (left > 0 ? 1 : 0);
