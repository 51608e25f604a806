import type { Hold } from '../../plan/schema.ts';
import { type Fact, lastHold } from './findings.ts';
import { gatesOf, workThat } from './sequence.ts';
import { signedOf, stoodBefore } from './signatures.ts';
import type { View } from './view.ts';

/**
 * Work recorded behind a hold point whose release has fallen into doubt: it was done in good faith, and what it rests on
 * may not hold. It is kept, and settled when the hold point is released again.
 */
export const behindDoubt = (view: View, operation: string): Fact[] =>
  gatesOf(view, operation).flatMap((hold) => factOf(view, operation, hold));

function factOf(view: View, operation: string, hold: Hold): Fact[] {
  const { outcome, fallen, doubts } = signedOf(view, hold);
  if (fallen.length === 0 && outcome !== 'in-doubt') return [];
  // Asked anew for each entry: what is kept of a scope must know that it rests on the releases.
  const work = workThat(view, operation, `behind ${hold.id}`, (entry) => {
    const signed = signedOf(view, hold);
    const sound = signed.outcome === 'released' && stoodBefore(view, signed.set!, entry);
    const doubted = [...signed.fallen, ...(signed.outcome === 'in-doubt' ? [signed.set!] : [])];
    return !sound && doubted.some((set) => stoodBefore(view, set, entry));
  });
  if (work.length === 0) return [];
  const settled = outcome === 'released';
  const count = work.length === 1 ? '1 entry' : `${work.length} entries`;
  return [
    {
      rule: 'behind-doubt',
      subject: [operation, hold.id],
      operation,
      severity: 'major',
      blocks: lastHold(view),
      title: `Operation ${operation} rests on ${hold.id}, which ${settled ? 'was' : 'is'} in doubt`,
      words: settled
        ? `${count} of it ${work.length === 1 ? 'was' : 'were'} made before ${hold.id} was signed again; all are kept.`
        : `${count} of it stand behind ${hold.id}; all are kept. Look at why it is in doubt, and sign it again or decide what becomes of the work.`,
      causes: [...new Set([...work, ...doubts.map((d) => d.entry)].map((e) => e.hash))],
      settled,
    },
  ];
}
