import { useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import type { Revision } from '../../../../shared/logbook/state/plans.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { type PlanItem, planItems } from '../../../../shared/plan/revise-plan.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { Filter } from '../../parts/filter.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { changesOf } from '../../shared-screens/changes-of.ts';
import { PlanChangesList } from '../../shared-screens/plan-changes.tsx';
import { figureText } from '../../shared-screens/plan-draft.ts';
import { reasonOf, signedWords, standingWords } from './revision-words.ts';
import './plan.css';

/** One revision, in force or not: what it changed, and its figures to be read. */
export function RevisionScreen() {
  const { revision: hash = '' } = useRoute().params;
  const v = view.value;
  const found = v?.revisions.find((r) => r.hash === hash);
  if (!v) return null;
  if (found) return <Known key={hash} view={v} revision={found} />;
  return (
    <Screen place="setup" name="Plan revision">
      <div class="sheet empty">
        <p>This tablet has no such revision: it does not count, or its entry has not come yet.</p>
        <a class="button" href="/plan">
          To the plan
        </a>
      </div>
    </Screen>
  );
}

function Known({ view: v, revision }: { view: View; revision: Revision }) {
  const entry = revision.entries[0];
  const parents = changesOf(v, revision);
  return (
    <Screen
      place="setup"
      name={`Plan revision ${revision.plan.revision}`}
      detail={standingWords(v, revision)}
      work="plan-work"
    >
      <div class="plan-side">
        <Sheet graduated title={`Revision ${revision.plan.revision}: ${standingWords(v, revision)}`}>
          <div class="pad plan-panel">
            <p>{signedWords(v, revision)}</p>
            {reasonOf(revision) && <p>Reason: {reasonOf(revision)}</p>}
            {revision.parents.length === 0 && <p>It follows from the design of the blank.</p>}
            <a class="button wide" href="/plan">
              All revisions
            </a>
            {entry && (
              <a class="button wide" href={`/record/${entry.hash}`}>
                Its entry in the record
              </a>
            )}
          </div>
        </Sheet>
        {parents.map(({ hash, parent, groups }) => (
          <Sheet
            key={hash}
            title={parent ? `What it changes in revision ${parent.revision}` : 'A revision before it is not here'}
          >
            {parent && <PlanChangesList groups={groups} />}
          </Sheet>
        ))}
      </div>
      <div class="plan-list">
        <Content revision={revision} />
      </div>
    </Screen>
  );
}

const KINDS = [
  { value: 'limits', label: 'Limits' },
  { value: 'hours', label: 'Hours' },
  { value: 'heat', label: 'Heat' },
  { value: 'notice', label: 'Notice' },
] as const;

const AT_FIRST = 20;

/** The figures of a plan, as they are read. */
function Content({ revision: { plan } }: { revision: Revision }) {
  const [kind, setKind] = useState<PlanItem['kind']>('limits');
  const [all, setAll] = useState(false);
  const items = planItems(plan).filter((i) => i.kind === kind);
  const shown = all ? items : items.slice(0, AT_FIRST);
  return (
    <Sheet title="What the plan says" aside={String(items.length)}>
      <div class="pad">
        <Filter legend="What is shown" choices={KINDS} value={kind} onChoice={setKind} />
      </div>
      <ul class="rows">
        {shown.map((item) => (
          <li key={item.id}>
            <span class="grow">
              <b>{item.name}</b>
              <span class="note second">{item.detail}</span>
            </span>
            <span class="plan-read">
              {item.figures
                .filter((f) => f.value !== null)
                .map((f) => (
                  <span key={f.path} class="small">
                    {f.what}{' '}
                    <b class="n">
                      {figureText(f.value)}
                      <span class="u">{`\u202f${f.unit}`}</span>
                    </b>
                  </span>
                ))}
              {item.figures.every((f) => f.value === null) && <span class="small dim">no limits</span>}
            </span>
          </li>
        ))}
      </ul>
      {items.length > shown.length && (
        <div class="pad">
          <button type="button" class="button wide" onClick={() => setAll(true)}>
            Show all {items.length}
          </button>
        </div>
      )}
    </Sheet>
  );
}
