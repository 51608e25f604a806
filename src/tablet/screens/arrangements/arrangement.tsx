import { useState } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { type Arrangement, arrangementById, arrangementStatus } from '../../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { operationById } from '../../../../shared/plan/lookup.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { dayAndTime, now } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { statusWords } from '../../shared-screens/arrangement-row.tsx';
import { aboutWords, endWords } from '../../shared-screens/arrangement-words.ts';
import { EndForm } from './end-form.tsx';
import { ExtendForm } from './extend-form.tsx';
import './arrangements.css';

/** One arrangement: what it is, whose, until when; and the ways to end or extend it. */
export function ArrangementScreen() {
  const { arrangement: id = '' } = useRoute().params;
  const v = view.value;
  if (!v) return null;
  const found = arrangementById(v, id);
  if (found) return <Known key={id} view={v} arrangement={found} />;
  return (
    <Screen place="now" name="Arranged">
      <div class="sheet empty">
        <p>This tablet has no such arrangement: it was struck, or its entry has not come yet.</p>
        <a class="button" href="/arrangements">
          All arrangements
        </a>
      </div>
    </Screen>
  );
}

function Known({ view: v, arrangement }: { view: View; arrangement: Arrangement }) {
  const now_ms = now.value.getTime();
  return (
    <Screen
      place="now"
      name="Arranged"
      detail={`operation ${arrangement.line.body.operation} · ${statusWords(arrangement, now_ms)}`}
      work="arrangements"
    >
      <div class="arrange-side">
        <What view={v} arrangement={arrangement} />
      </div>
      <div class="arrange-list">
        <Facts view={v} arrangement={arrangement} now_ms={now_ms} />
        <Lines view={v} arrangement={arrangement} />
        <a class="button" href="/arrangements">
          All arrangements
        </a>
      </div>
    </Screen>
  );
}

/** What can be done with it. */
function What({ view: v, arrangement }: { view: View; arrangement: Arrangement }) {
  const saved = useLocation().query.saved !== undefined;
  const [form, setForm] = useState<'end' | 'extend' | null>(null);
  const [said, setSaid] = useState<string | null>(saved ? 'Saved.' : null);
  const done = (words?: string) => {
    setForm(null);
    setSaid(words ?? null);
  };
  if (form === 'end')
    return (
      <Sheet graduated title="End it">
        <EndForm view={v} arrangement={arrangement} onDone={done} />
      </Sheet>
    );
  if (form === 'extend')
    return (
      <Sheet graduated title="Extend it">
        <ExtendForm view={v} arrangement={arrangement} onDone={done} />
      </Sheet>
    );
  return (
    <Sheet graduated title={arrangement.ended ? 'All is as planned again' : 'What becomes of it'}>
      <div class="pad arrange-panel">
        {said && (
          <p class="arrange-said" role="status">
            {said}
          </p>
        )}
        {arrangement.ended ? (
          <p>
            If that was a mistake, strike the entry of its end out: it stands below. The arrangement is open again then.
          </p>
        ) : (
          <>
            <button type="button" class="button main wide" onClick={() => setForm('end')}>
              End it
            </button>
            <button type="button" class="button wide" onClick={() => setForm('extend')}>
              Extend it, or change its owner
            </button>
          </>
        )}
      </div>
    </Sheet>
  );
}

function Facts({ view: v, arrangement, now_ms }: { view: View; arrangement: Arrangement; now_ms: number }) {
  const { line, ended, endsAt_ms } = arrangement;
  const { what, subject, owner, operation, reason, endsWhen } = line.body;
  const overdue = arrangementStatus(arrangement, now_ms) === 'overdue';
  const about = aboutWords(subject);
  return (
    <Sheet title={what}>
      <dl class="pad arrange-facts">
        <dt>State</dt>
        <dd>
          <b>{statusWords(arrangement, now_ms)}</b>
        </dd>
        {about && (
          <>
            <dt>About</dt>
            <dd>{about}</dd>
          </>
        )}
        <dt>Owner</dt>
        <dd>{v.standing.person(owner)?.name ?? 'somebody not admitted'}</dd>
        <dt>End</dt>
        <dd class={overdue ? 'arrange-over' : ''}>
          {ended
            ? `${dayAndTime(ended.entry.observedAt, v.genesis.dayOne, v.genesis.timeZone)}: ${ended.body.words}`
            : endWords(v.genesis, { endsAt_ms, endsWhen }, now_ms)}
        </dd>
        {overdue && endsWhen && (
          <>
            <dt>Ends when</dt>
            <dd>{endsWhen}</dd>
          </>
        )}
        <dt>Why</dt>
        <dd>{reason}</dd>
        <dt>Operation</dt>
        <dd>
          {operation} {operationById(v.plan, operation)?.name}
        </dd>
      </dl>
    </Sheet>
  );
}

/** Every line of it, oldest first: made, extended, ended. */
function Lines({ view: v, arrangement: { lines, ended } }: { view: View; arrangement: Arrangement }) {
  const { dayOne, timeZone } = v.genesis;
  const all = [
    ...lines.map(({ hash, entry, body }, index) => ({
      hash,
      entry,
      words: `${index === 0 ? 'made' : 'extended'}; ${
        body.endsAt === null ? `ends when ${body.endsWhen}` : `ends ${dayAndTime(body.endsAt, dayOne, timeZone)}`
      }`,
    })),
    ...(ended ? [{ hash: ended.hash, entry: ended.entry, words: 'ended' }] : []),
  ];
  return (
    <Sheet title="Its entries" aside={all.length}>
      <ul class="rows">
        {all.map(({ hash, entry, words }) => (
          <li key={hash}>
            <a class="row" href={`/record/${hash}`}>
              <span class="grow">
                {words}
                <span class="second small dim">
                  {v.standing.person(entry.by)?.name ?? 'somebody not admitted'},{' '}
                  {dayAndTime(entry.observedAt, dayOne, timeZone)}
                </span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
