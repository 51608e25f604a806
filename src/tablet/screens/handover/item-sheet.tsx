import { useState } from 'preact/hooks';
import type { HandoverLine } from '../../../../shared/logbook/state/handover/preparing.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import type { ShownItem } from './item-content.tsx';

const FEW = 4;

interface Props {
  readonly view: View;
  readonly shown: ShownItem;
  /** The entry of the handover itself, which carries what was said; none before it is signed. */
  readonly handover: string | null;
  /** Goes back to it in the talk. */
  readonly onAgain?: (() => void) | undefined;
  readonly onClose: () => void;
}

/** An item's lines, each with the entries that it was worked out from. */
export function ItemSheet({ view, shown, handover, onAgain, onClose }: Props) {
  const { title, lines, carried = [] } = shown;
  return (
    <Overlay title={title} onClose={onClose}>
      {lines.length === 0 && <p class="dim">The log has nothing for it; it is told in the outgoing lead’s words.</p>}
      {carried.map(({ answer, reason }) => (
        <section key={answer} class="ho-behind">
          <p>
            <b>Refused before: {reason}</b>
          </p>
          <EntryLinks view={view} entries={[answer]} />
        </section>
      ))}
      {lines.map((l) => (
        <section key={`${l.asked}${l.text}`} class="ho-behind">
          <p>
            {l.asked && <span class="dim">{l.asked}: </span>}
            <b>{l.text}</b>
          </p>
          <Behind view={view} shown={l} handover={handover} />
        </section>
      ))}
      {onAgain && (
        <button type="button" class="button wide" onClick={onAgain}>
          Talk it through again
        </button>
      )}
    </Overlay>
  );
}

function Behind({ view, shown, handover }: { view: View; shown: HandoverLine; handover: string | null }) {
  const [all, showAll] = useState(false);
  const { entries, more = 0, operation, hold, finding, asked } = shown;
  const own = asked && handover ? [handover] : entries;
  const listed = all ? own : own.slice(0, FEW);
  return (
    <>
      <EntryLinks view={view} entries={listed} />
      <div class="buttons ho-links">
        {own.length > listed.length && (
          <button type="button" class="button" onClick={() => showAll(true)}>
            All {own.length} entries
          </button>
        )}
        {more > 0 && (
          <a class="button" href="/record">
            {more} more, in Record
          </a>
        )}
        {finding && (
          <a class="button" href={`/findings/${finding}`}>
            The finding
          </a>
        )}
        {hold && (
          <a class="button" href={`/hold/${hold}`}>
            Hold point {hold}
          </a>
        )}
        {operation && (
          <a class="button" href={`/sequence/${operation}`}>
            Operation {operation}
          </a>
        )}
      </div>
    </>
  );
}

function EntryLinks({ view, entries }: { view: View; entries: readonly string[] }) {
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
