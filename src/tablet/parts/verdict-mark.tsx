import { Diamond } from './diamond.tsx';
import { type Verdict, verdictWord } from './verdict.ts';
import './verdict-mark.css';

/** Which limit a value lies near or past. */
export type Side = 'low' | 'high';

export type VerdictMarkProps = {
  /** null is not measured. */
  verdict: Verdict | null;
  /** Left out where there is only one side to speak of, or for a total. */
  side?: Side | undefined;
  /** A frame for not proven, a red ground for outside. */
  tag?: boolean | undefined;
  /** How many there are, behind the word: "not proven 3". */
  count?: number | undefined;
  /** Only inside a drawing that has a legend. The word is then said, not shown. */
  wordless?: boolean | undefined;
};

/** The strip at 22 px with its word. It tells low from high by the side. */
export function VerdictMark({ verdict, side = 'high', tag, count, wordless }: VerdictMarkProps) {
  const word = count === undefined ? verdictWord(verdict) : `${verdictWord(verdict)} ${count}`;
  return (
    <span class={`verdict ${verdict ?? 'unmeasured-word'} ${tag ? 'tagged' : ''}`}>
      <VerdictDrawing verdict={verdict} side={side} solid={tag} />
      <span class={wordless ? 'hidden-text' : ''}>{word}</span>
    </span>
  );
}

/** Places in a box of 24: the posts, and the diamond between them, on one, or past one. */
const PLACES = {
  within: { posts: [6, 18], diamond: 12 },
  'not-proven': { posts: [6, 18], diamond: 18 },
  outside: { posts: [2.5, 11.5], diamond: 19.5 },
} as const;

type DrawingProps = { verdict: Verdict | null; side?: Side | undefined; size?: number; solid?: boolean | undefined };

/** The mark alone; it says nothing to a screen reader. */
export function VerdictDrawing({ verdict, side = 'high', size = 22, solid }: DrawingProps) {
  const { posts, diamond } = PLACES[verdict ?? 'within'];
  const turned = (x: number) => (side === 'low' ? 24 - x : x);
  return (
    <svg class="verdict-drawing" viewBox="0 0 24 24" width={size} height={size} aria-hidden="true">
      <line x1={turned(posts[0])} x2={turned(posts[1])} y1="12" y2="12" stroke-dasharray={verdict ? '' : '2 2'} />
      {posts.map((x) => (
        <line key={x} class="verdict-post" x1={turned(x)} x2={turned(x)} y1="4" y2="20" />
      ))}
      {verdict && (
        <Diamond half={4.2} x={turned(diamond)} y={12} verdict={solid && verdict === 'outside' ? 'within' : verdict} />
      )}
    </svg>
  );
}
