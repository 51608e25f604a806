import { VerdictMark } from '../../parts/verdict-mark.tsx';
import type { Counts } from './survey-of.ts';

/** How far a survey is, and what of it wants a hand. */
export function SurveyCounts({ counts: { done, total, outside, notProven } }: { counts: Counts }) {
  return (
    <span class="survey-counts">
      <span>
        <b class="n">{done}</b> of <span class="n">{total}</span>
      </span>
      {outside > 0 && <VerdictMark verdict="outside" count={outside} />}
      {notProven > 0 && <VerdictMark verdict="not-proven" count={notProven} />}
    </span>
  );
}
