import { useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { mayStrike, strikesOf } from '../../../../shared/logbook/state/strikes.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { person } from '../../app/session.ts';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { changesOf } from '../../shared-screens/changes-of.ts';
import { entryWords, faultOf, kindName } from '../../shared-screens/entry-words.ts';
import { KeptWorking } from '../../shared-screens/kept-working.tsx';
import { PhotoStrip } from '../../shared-screens/photos/photo-strip.tsx';
import { shotsOf } from '../../shared-screens/photos/shots.ts';
import { PlanChangesList } from '../../shared-screens/plan-changes.tsx';
import { StrikeForm } from '../../shared-screens/strike-form.tsx';
import { EntryFacts } from './entry-facts.tsx';
import { FullText } from './full-text.tsx';
import './record.css';

/** One entry in full: what it says, who and when, whether it counts, and its bytes. */
export function EntryScreen() {
  const { params } = useRoute();
  const view = openView();
  const kept = view.log.get(params.hash ?? '');
  if (!kept) {
    return (
      <Screen place="record" name="Entry" operation="not on this tablet">
        <div class="empty">
          <p>This tablet does not hold that entry. Another tablet may.</p>
          <a class="button" href="/record">
            To the record
          </a>
        </div>
      </Screen>
    );
  }
  return (
    <Screen
      place="record"
      name="Entry"
      operation={kindName(kept.entry.kind)}
      detail={`${kept.entry.seq} of its tablet`}
      work="record-work"
    >
      <What view={view} kept={kept} />
      <div class="record-beside">
        {kept.kind === 'reading' && (
          <Sheet title="Working">
            <div class="record-entry">
              <KeptWorking view={view} reading={kept as unknown as Kept<'reading'>} />
            </div>
          </Sheet>
        )}
        <Provenance view={view} kept={kept} />
      </div>
    </Screen>
  );
}

function What({ view, kept }: { view: View; kept: Kept }) {
  const [striking, setStriking] = useState(false);
  const strikes = kept.kind === null ? [] : strikesOf(view, kept);
  const fault = faultOf(view, kept);
  const mayBe = kept.kind !== null && strikable(kept) && strikes.length === 0;
  const allowed = person.value !== null && mayStrike(person.value.id, kept, person.value.roles);
  return (
    <Sheet title={kindName(kept.entry.kind)} graduated>
      <div class="record-entry">
        <p class={strikes.length > 0 ? 'struck' : ''}>{entryWords(view, kept)}</p>
        {strikes.map((s) => (
          <p key={s.hash} class="outside">
            Struck by {view.standing.person(s.entry.by)?.name}, {at(view, s.entry.recordedAt)}: {s.body.reason}
            {s.body.words ? `, ${s.body.words}` : ''}
          </p>
        ))}
        {fault && (
          <div class="error">
            <h3>It does not count</h3>
            <p>{fault}</p>
          </div>
        )}
        {mayBe && (
          <div class="buttons">
            <button type="button" class={`button ${allowed ? '' : 'missing'}`} onClick={() => setStriking(true)}>
              {allowed ? 'Strike it out' : 'Strike it out: its writer, a crew lead, engineer or quality may'}
            </button>
          </div>
        )}
        <PhotoStrip view={view} shots={shotsOf(view, [kept])} label="Photos of this entry" />
        <EntryFacts view={view} kept={kept} />
        {kept.kind === 'plan' && <Changes view={view} body={kept.body as Body<'plan'>} />}
        <FullText kept={kept} />
      </div>
      {striking && <StrikeForm view={view} target={kept.hash} allowed={allowed} onClose={() => setStriking(false)} />}
    </Sheet>
  );
}

/** What a revision changes in each that it follows. */
function Changes({ view, body }: { view: View; body: Body<'plan'> }) {
  return (
    <>
      {changesOf(view, body).map(({ hash, parent, groups }) => (
        <section key={hash} class="record-lines">
          <h3>{parent ? `What it changes in revision ${parent.revision}` : 'The revision before it is not here'}</h3>
          {parent && <PlanChangesList groups={groups} />}
        </section>
      ))}
    </>
  );
}

/** The first entries and strikes themselves stay; a release is withdrawn by striking it. */
const strikable = (kept: Kept): boolean =>
  !['genesis', 'plan', 'strike', 'person', 'key', 'device', 'retirement', 'adoption'].includes(kept.entry.kind);

const at = (view: View, time: string): string => dayAndTime(time, view.genesis.dayOne, view.genesis.timeZone);

function Provenance({ view, kept }: { view: View; kept: Kept }) {
  const { entry } = kept;
  const rows: [string, string][] = [
    ['observed', at(view, entry.observedAt)],
    ['written', at(view, entry.recordedAt)],
    ['written by', view.standing.person(entry.by)?.name ?? 'somebody not admitted'],
    ['on', view.standing.tablets().find((t) => t.device === entry.device)?.name ?? 'a tablet not admitted'],
    ['signature', kept.signature === 'good' ? 'fits' : kept.signature === 'bad' ? 'does not fit' : 'none'],
    ['hash', kept.hash],
    ['before it', entry.prev ?? 'the first of its chain'],
  ];
  return (
    <Sheet title="Where it comes from">
      <dl class="record-from">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt class="small dim">{name}</dt>
            <dd class={/^[0-9a-f]{64}$/.test(value) ? 'n record-hash' : ''}>{value}</dd>
          </div>
        ))}
      </dl>
    </Sheet>
  );
}
