import { useMemo, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { byTime } from '../../../../shared/logbook/state/readings.ts';
import { isStruck } from '../../../../shared/logbook/state/strikes.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { changesLine } from '../../shared-screens/changes-of.ts';
import { allKindNames, entryWords, faultOf, kindName } from '../../shared-screens/entry-words.ts';
import { rangeOf } from '../../shared-screens/record-range.ts';
import { Chains } from './chains.tsx';
import './record.css';

const PAGE = 60;

/** The whole log, newest first, with a plain search; beside it the chains and their proof. */
export function RecordScreen() {
  const view = openView();
  const [words, setWords] = useState('');
  const [kind, setKind] = useState('');
  const [shown, setShown] = useState(PAGE);
  const { version } = view.log;
  const { query, route } = useLocation();
  const { since, until, kinds } = query;
  const range = useMemo(() => rangeOf(view, query), [view.log, version, since, until, kinds]);
  const found = useMemo(
    () => search(view, words, kind).filter((kept) => range === null || range.hashes.has(kept.hash)),
    [view.log, version, words, kind, range],
  );
  const showAll = () => {
    setWords('');
    setKind('');
    if (range) route('/record');
  };
  return (
    <Screen place="record" name="Record" work="record-work">
      <Sheet title="Log" aside={`${found.length} of ${view.log.size} entries`} class="record-log">
        <div class="record-search">
          <label class="labelled">
            <span>Search</span>
            <input
              class="input"
              type="search"
              value={words}
              onInput={(e) => setWords(e.currentTarget.value)}
              placeholder="a name, an operation, a word"
            />
          </label>
          <label class="labelled">
            <span>Kind</span>
            <select class="input" value={kind} onChange={(e) => setKind(e.currentTarget.value)}>
              <option value="">all kinds</option>
              {allKindNames.map(([value, name]) => (
                <option key={value} value={value}>
                  {name}
                </option>
              ))}
            </select>
          </label>
        </div>
        {range && (
          <div class="record-range">
            <p class="grow" role="status">
              {range.words}
            </p>
            {found.length > 0 && (
              <button type="button" class="button" onClick={showAll}>
                Show all
              </button>
            )}
          </div>
        )}
        {found.length === 0 ? (
          <div class="empty">
            <p>{range && words === '' && kind === '' ? 'There are none.' : 'No entry holds these words.'}</p>
            <button type="button" class="button" onClick={showAll}>
              Show all
            </button>
          </div>
        ) : (
          <ul class="rows">
            {found.slice(0, shown).map((kept) => (
              <EntryRow key={kept.hash} view={view} kept={kept} />
            ))}
          </ul>
        )}
        {found.length > shown && (
          <div class="buttons record-more">
            <button type="button" class="button wide" onClick={() => setShown(shown + PAGE)}>
              Show {Math.min(PAGE, found.length - shown)} more
            </button>
          </div>
        )}
      </Sheet>
      <Chains view={view} />
    </Screen>
  );
}

/** Entries that hold every word typed, in what they say, who wrote them or when, newest first. */
function search(view: View, words: string, kind: string): Kept[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return [...view.log.all()]
    .filter((kept) => kind === '' || kept.entry.kind === kind)
    .filter((kept) => wanted.length === 0 || holds(textOf(view, kept), wanted))
    .sort((a, b) => byTime(b, a));
}

const holds = (text: string, wanted: readonly string[]): boolean => wanted.every((word) => text.includes(word));

function textOf(view: View, kept: Kept): string {
  const who = view.standing.person(kept.entry.by)?.name ?? '';
  const changes = kept.kind === 'plan' ? changesLine(view, kept.body as Body<'plan'>) : '';
  return `${kindName(kept.entry.kind)} ${entryWords(view, kept)} ${changes} ${who} ${timeOf(view, kept)} ${kept.hash}`.toLowerCase();
}

const timeOf = (view: View, kept: Kept): string =>
  dayAndTime(kept.entry.observedAt, view.genesis.dayOne, view.genesis.timeZone);

function EntryRow({ view, kept }: { view: View; kept: Kept }) {
  const struck = kept.kind !== null && isStruck(view, kept);
  const fault = faultOf(view, kept);
  const who = view.standing.person(kept.entry.by)?.name ?? 'somebody not admitted';
  return (
    <li>
      <a class="row" href={`/record/${kept.hash}`}>
        <span class="grow">
          <span class={struck ? 'struck' : ''}>
            <b>{kindName(kept.entry.kind)}</b> {entryWords(view, kept)}
          </span>
          {kept.kind === 'plan' && <span class="small second">{changesLine(view, kept.body as Body<'plan'>)}</span>}
          {struck && <span class="outside"> struck</span>}
          <span class="note record-who">
            {who}, {timeOf(view, kept)}
          </span>
          {fault && <span class="small record-fault">Does not count. {fault}</span>}
        </span>
      </a>
    </li>
  );
}
