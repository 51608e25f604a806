import { useLocation } from 'preact-iso';
import { type Arrangement, arrangementStatus, arrangements } from '../../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { now } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { ArrangementRow } from '../../shared-screens/arrangement-row.tsx';
import type { SubjectKind } from './arrangement-draft.ts';
import { NewForm } from './new-form.tsx';
import './arrangements.css';

const GROUPS = [
  { status: 'overdue', title: 'Past their end' },
  { status: 'due', title: 'Due to end' },
  { status: 'open', title: 'Open' },
  { status: 'ended', title: 'Ended' },
] as const;

const kindOf = (text: string): SubjectKind | '' =>
  text === 'channel' || text === 'instrument' || text === 'other' ? text : '';

/** Everything that was arranged for a time: what is past its end first. */
export function Arrangements() {
  const { query, route } = useLocation();
  const v = view.value;
  if (!v) return null;
  const making = query.new;
  const all = arrangements(v);
  const open = all.filter((a) => a.ended === null).length;
  return (
    <Screen
      place="now"
      name="Arranged"
      detail={`temporary arrangements · ${open} open of ${all.length}`}
      work="arrangements"
    >
      <div class="arrange-side">
        {making === undefined ? (
          <Sheet graduated title="For a time only">
            <div class="pad arrange-panel">
              <p>
                A bypassed channel, a borrowed gauge, a lead across a walkway: each has an owner and an end, and stays
                in sight until somebody ends it.
              </p>
              <a class="button main wide" href="/arrangements?new=">
                Make an arrangement
              </a>
            </div>
          </Sheet>
        ) : (
          <Sheet graduated title="New arrangement">
            <NewForm
              view={v}
              kind={kindOf(making)}
              subject={query.id ?? ''}
              onDone={(id) => route(`/arrangements/${id}?saved=`)}
              onLeave={() => route('/arrangements')}
            />
          </Sheet>
        )}
      </div>
      <div class="arrange-list">
        {all.length === 0 ? (
          <div class="sheet empty">
            <p>Nothing is arranged for a time. All is as planned, as far as this tablet knows.</p>
          </div>
        ) : (
          <Groups view={v} all={all} now_ms={now.value.getTime()} />
        )}
      </div>
    </Screen>
  );
}

function Groups({ view: v, all, now_ms }: { view: View; all: readonly Arrangement[]; now_ms: number }) {
  return (
    <>
      {GROUPS.map(({ status, title }) => {
        const those = all.filter((a) => arrangementStatus(a, now_ms) === status);
        if (those.length === 0) return null;
        return (
          <Sheet key={status} title={title} aside={those.length}>
            <ul class="rows">
              {those.map((arrangement) => (
                <li key={arrangement.id}>
                  <ArrangementRow view={v} arrangement={arrangement} now_ms={now_ms} />
                </li>
              ))}
            </ul>
          </Sheet>
        );
      })}
    </>
  );
}
