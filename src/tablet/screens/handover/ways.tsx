import { useState } from 'preact/hooks';
import type { HandoverLine } from '../../../../shared/logbook/state/handover/preparing.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import { rangeHref } from '../../shared-screens/record-range.ts';

const FEW = 4;

/** The handover in which a line stands. */
export interface Standing {
  /** The handover that it goes on from, by its hash. */
  readonly before: string | null;
  /** Its own entry; null before it is signed. */
  readonly handover: string | null;
}

const places: Readonly<Record<string, { readonly href: string; readonly words: string }>> = {
  findings: { href: '/findings', words: 'All findings' },
  arrangements: { href: '/arrangements', words: 'All temporary arrangements' },
  instruments: { href: '/setup?part=instruments', words: 'The register of instruments' },
  tablets: { href: '/setup?part=tablets', words: 'The tablets' },
  sequence: { href: '/sequence', words: 'The sequence' },
};

interface Props {
  readonly view: View;
  readonly line: HandoverLine;
  readonly standing: Standing;
}

/** Everything that a line of a handover rests on: its entries, and the screens and searches where more of it stands. */
export function Ways({ view, line, standing }: Props) {
  const [all, showAll] = useState(false);
  const { more = 0, operation, hold, finding, place, searched } = line;
  const entries = entriesOf(line, standing);
  const listed = all ? entries : entries.slice(0, FEW);
  const named = place === undefined ? undefined : places[place];
  const range = (kinds?: readonly string[]) => rangeHref({ since: standing.before, until: standing.handover, kinds });
  return (
    <>
      <EntryLinks view={view} entries={listed} />
      <div class="buttons ho-links">
        {entries.length > listed.length && (
          <button type="button" class="button" onClick={() => showAll(true)}>
            All {entries.length} entries
          </button>
        )}
        {more > 0 && <Way href={range()} words={`${more} more, in Record`} />}
        {searched && <Way href={range(searched)} words="What the record was searched for" />}
        {finding && <Way href={`/findings/${finding}`} words="The finding" />}
        {hold && <Way href={`/hold/${hold}`} words={`Hold point ${hold}`} />}
        {operation && <Way href={`/sequence/${operation}`} words={`Operation ${operation}`} />}
        {named && <Way {...named} />}
      </div>
    </>
  );
}

/** An answer, and a line of a build that named nothing, rest on the word of who signed the handover. */
function entriesOf(
  { entries, asked, operation, hold, finding, place, searched }: HandoverLine,
  { handover }: Standing,
) {
  const bare = entries.length === 0 && !operation && !hold && !finding && !place && !searched;
  return handover && (asked !== undefined || bare) ? [handover, ...entries] : entries;
}

const Way = ({ href, words }: { href: string; words: string }) => (
  <a class="button" href={href}>
    {words}
  </a>
);

export function EntryLinks({ view, entries }: { view: View; entries: readonly string[] }) {
  const { dayOne, timeZone } = view.genesis;
  return (
    <ul class="rows ho-entries">
      {entries.map((hash) => {
        const kept = view.log.get(hash);
        return (
          <li key={hash}>
            <a class="row" href={`/record/${hash}`}>
              <span class="grow small">
                {kept ? (
                  <>
                    <b>{kindName(kept.entry.kind)}</b> {entryWords(view, kept)}
                    <span class="note"> {dayAndTime(kept.entry.observedAt, dayOne, timeZone)}</span>
                  </>
                ) : (
                  'An entry that is not on this tablet yet'
                )}
              </span>
            </a>
          </li>
        );
      })}
    </ul>
  );
}
