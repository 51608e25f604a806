import type { PlanChanges } from '../../../shared/plan/plan-difference.ts';
import './plan-changes.css';

/** What one plan has otherwise than another, in words, by operation, hold point and heat. */
export function PlanChangesList({ groups }: { groups: readonly PlanChanges[] }) {
  if (groups.length === 0) return <p class="pad">Nothing but the name of the revision.</p>;
  return (
    <ul class="plan-changes">
      {groups.map(({ id, title, changes }) => (
        <li key={id}>
          <b>{title}</b>
          <ul>
            {changes.map(({ what, before, after }) => (
              <li key={`${what}/${before}/${after}`}>
                <span>{what}</span>
                <span class="plan-change">
                  {before === null ? (
                    <>
                      <span class="small dim">new</span> <b>{after}</b>
                    </>
                  ) : after === null ? (
                    <>
                      <span class="small dim">gone, was</span> <s>{before}</s>
                    </>
                  ) : (
                    <>
                      {before && <span>{before}</span>} <span class="hidden-text">becomes</span>
                      <span aria-hidden="true">→</span> <b>{after}</b>
                    </>
                  )}
                </span>
              </li>
            ))}
          </ul>
        </li>
      ))}
    </ul>
  );
}
