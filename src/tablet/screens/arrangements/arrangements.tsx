import { useRoute } from 'preact-iso';
import {
  type Arrangement,
  arrangementById,
  arrangementStatus,
  arrangements,
} from '../../../../shared/logbook/state/arrangements.ts';
import { anyKind, type View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { now } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { arrangedFor, endWords, statusWords } from '../../shared-screens/arrangement-words.ts';
import { SaidBy } from '../../shared-screens/said-by.tsx';
import { ArrangeForm } from './arrange-form.tsx';
import { EndForm } from './end-form.tsx';
import './arrangements.css';

/** What is otherwise than planned for now, by whom and until when; one of them in full, or the form for a new one. */
export function Arrangements() {
  const view = openView();
  const { params, query } = useRoute();
  const chosen = params.arrangement ? arrangementById(view, params.arrangement) : null;
  return (
    <Screen place="now" name="Arrangements" detail="temporary arrangements" work="work-two arrangements">
      <List view={view} current={chosen?.id ?? null} />
      <div class="stack">
        {chosen ? (
          <One key={chosen.id} view={view} arrangement={chosen} />
        ) : (
          <Sheet graduated title="Arrange something for a time">
            <ArrangeForm view={view} before={null} about={query.about ?? ''} />
          </Sheet>
        )}
      </div>
    </Screen>
  );
}

function List({ view, current }: { view: View; current: string | null }) {
  const all = arrangements(view);
  const open = all.filter((a) => a.ended === null);
  return (
    <Sheet title="In force" aside={open.length > 0 ? `${open.length} open` : 'none open'}>
      {all.length === 0 && (
        <p class="pad dim">
          Nothing is arranged otherwise than planned. A bypassed channel, a borrowed gauge or a propped door belongs
          here, with an owner and an end.
        </p>
      )}
      <ul class="rows">
        {[...open, ...all.filter((a) => a.ended !== null)].map((a) => (
          <li key={a.id}>
            <a class="row" href={`/arrangements/${a.id}`} aria-current={a.id === current ? 'true' : undefined}>
              <Words view={view} arrangement={a} />
            </a>
          </li>
        ))}
      </ul>
      {current !== null && (
        <div class="pad">
          <a class="button wide" href="/arrangements">
            Arrange something else
          </a>
        </div>
      )}
    </Sheet>
  );
}

function Words({ view, arrangement }: { view: View; arrangement: Arrangement }) {
  const { body } = arrangement.line;
  const status = arrangementStatus(arrangement, now.value.getTime());
  return (
    <>
      <span class="grow">
        <b>{body.what}</b>
        <span class="second small dim">
          {arrangedFor(body)}, owner {view.standing.person(body.owner)?.name ?? 'somebody not admitted'}
        </span>
      </span>
      <span class={`small ${status === 'overdue' ? 'arrangement-overdue' : ''}`}>
        {statusWords(status)}
        <span class="second dim">{endWords(view, body)}</span>
      </span>
    </>
  );
}

/** One arrangement with all its lines, and how it goes on. */
function One({ view, arrangement }: { view: View; arrangement: Arrangement }) {
  const { line, lines, ended } = arrangement;
  const { body } = line;
  return (
    <>
      <Sheet title={body.what}>
        <dl class="facts pad">
          <dt>about</dt>
          <dd>{arrangedFor(body)}</dd>
          <dt>owner</dt>
          <dd>{view.standing.person(body.owner)?.name ?? 'somebody not admitted'}</dd>
          <dt>ends</dt>
          <dd>{endWords(view, body)}</dd>
          <dt>reason</dt>
          <dd>{body.reason}</dd>
          <dt>operation</dt>
          <dd class="n">{body.operation}</dd>
          {ended && [<dt key="ended">ended</dt>, <dd key="how">{ended.body.words}</dd>]}
        </dl>
        <ul class="rows" aria-label="Its entries">
          {[...lines.map(anyKind), ...(ended ? [anyKind(ended)] : [])].map((kept) => (
            <li key={kept.hash}>
              <a class="row" href={`/record/${kept.hash}`}>
                <span class="grow">
                  {kept.kind === 'arrangement-end' ? 'Ended' : kept === anyKind(lines[0]!) ? 'Arranged' : 'Changed'}
                  <SaidBy view={view} kept={kept} />
                </span>
              </a>
            </li>
          ))}
        </ul>
      </Sheet>
      {!ended && (
        <>
          <Sheet graduated title="As planned again">
            <EndForm arrangement={arrangement} />
          </Sheet>
          <Sheet title="Change its end or owner">
            <ArrangeForm view={view} before={arrangement} about="" />
          </Sheet>
        </>
      )}
    </>
  );
}
