import { useLocation } from 'preact-iso';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { ReleasedOtherwise } from './released-otherwise.tsx';
import { reasonOf, signedWords, standingWords } from './revision-words.ts';
import { TwoChildren } from './two-children.tsx';
import './plan.css';

/** The plan: which revision is in force, what came before it, and the way to the next. */
export function PlanScreen() {
  const v = view.value;
  const saved = useLocation().query.saved;
  if (!v) return null;
  return (
    <Screen place="setup" name="Plan" detail={`revision ${v.plan.revision} in force`} work="plan-work">
      <div class="plan-side">
        <InForce view={v} saved={saved} />
      </div>
      <div class="plan-list">
        {v.heads.length > 1 && <TwoChildren view={v} />}
        <ReleasedOtherwise view={v} />
        <History view={v} />
      </div>
    </Screen>
  );
}

function InForce({ view: v, saved }: { view: View; saved: string | undefined }) {
  const inForce = v.line.at(-1)!;
  const waits = v.heads.length > 1;
  return (
    <Sheet graduated title={`Revision ${v.plan.revision} is in force`}>
      <div class="pad plan-panel">
        {saved && (
          <p class="plan-said" role="status">
            Saved: revision {saved} is signed.
          </p>
        )}
        <p>{v.plan.title}</p>
        <p class="small">
          {signedWords(v, inForce)}
          {reasonOf(inForce) && <>. Reason: {reasonOf(inForce)}</>}
        </p>
        <p class="small dim">
          Open work is judged by it. What was released stays under the revision that it was signed under. A process
          engineer signs a revision.
        </p>
        <a class="button main wide" href="/plan/change">
          {waits ? 'Join the revisions' : 'Make a revision'}
        </a>
        <a class="button wide" href={`/plan/${v.planHash}`}>
          Read the plan
        </a>
      </div>
    </Sheet>
  );
}

function History({ view: v }: { view: View }) {
  return (
    <Sheet title="Revisions" aside={String(v.revisions.length)}>
      <ul class="rows">
        {[...v.revisions].reverse().map((revision) => (
          <li key={revision.hash}>
            <a
              class="row"
              href={`/plan/${revision.hash}`}
              aria-current={revision.hash === v.planHash ? 'true' : undefined}
            >
              <span class="grow">
                <b>Revision {revision.plan.revision}</b>, {standingWords(v, revision)}
                {reasonOf(revision) && <span class="second small">{reasonOf(revision)}</span>}
                <span class="note second">{signedWords(v, revision)}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
