import type { View } from '../../../../shared/logbook/state/view.ts';
import { planDifference } from '../../../../shared/plan/plan-difference.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { PlanChangesList } from '../../shared-screens/plan-changes.tsx';
import { reasonOf, signedWords } from './revision-words.ts';

/** Revisions that were made without knowing of each other: each with what it changes, and what holds meanwhile. */
export function TwoChildren({ view }: { view: View }) {
  const { heads, plan } = view;
  return (
    <Sheet
      title={heads.length === 2 ? 'Two children of one parent' : `${heads.length} children of one parent`}
      aside={`revision ${plan.revision} in force`}
    >
      <p class="pad">
        These revisions were signed without knowing of each other. Until one follows{' '}
        {heads.length === 2 ? 'both' : 'all'}, revision {plan.revision} stays in force, on every tablet.
      </p>
      {heads.map((head) => (
        <section key={head.hash} class="plan-child">
          <a class="row" href={`/plan/${head.hash}`}>
            <span class="grow">
              <b>Revision {head.plan.revision}</b>
              <span class="second small">{reasonOf(head)}</span>
              <span class="note second">{signedWords(view, head)}</span>
            </span>
          </a>
          <PlanChangesList groups={planDifference(plan, head.plan)} />
        </section>
      ))}
    </Sheet>
  );
}
