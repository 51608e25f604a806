import type { OperationState } from '../../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import { nextStep, stepWords } from '../../shared-screens/next-work.ts';

export { openWork } from '../../shared-screens/next-work.ts';

import { lastEntries } from './last-entries.ts';

const OTHERS = 3;
const LAST = 3;

export { Ahead } from './ahead.tsx';
export { arrangementFacts } from './arrangement-facts.ts';
export { ArrangementsLine } from './arrangements-line.tsx';
export { DueRound, runningHeat } from './due-round.tsx';
export { handoverFacts } from './handover-facts.ts';
export { HandoverWaits } from './handover-waits.tsx';
export { NextWork } from './next.tsx';

/** What else is open, and what was recorded last. */
export function Beside({ view, work }: { view: View; work: readonly OperationState[] }) {
  return (
    <>
      <OtherWork view={view} work={work} />
      <Recorded view={view} />
      <CrewFirst view={view} />
    </>
  );
}

/** What else can go on at the same time. */
function OtherWork({ view, work }: { view: View; work: readonly OperationState[] }) {
  if (work.length === 0) return null;
  const more = work.length - OTHERS;
  return (
    <Sheet title="Also open" aside={more > 0 ? `${more} more in the sequence` : undefined}>
      <ul class="rows">
        {work.slice(0, OTHERS).map((state) => (
          <li key={state.operation.id}>
            <a class="row" href={`/sequence/${state.operation.id}`}>
              <span class="n now-id">{state.operation.id}</span>
              <span class="grow">
                <b>{state.operation.name}</b>
                <span class="second small dim">{stepWords(nextStep(view, state))}</span>
              </span>
              <span class="small">{state.progress === 'ready' ? 'ready' : 'under way'}</span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

/** A casting of one person: nobody can sign beside them, or record what they sign. */
function CrewFirst({ view }: { view: View }) {
  const people = view.standing.people().filter((p) => !p.retired);
  if (people.length > 1) return null;
  return (
    <Sheet title="The crew">
      <ul class="rows">
        <li>
          <a class="row" href="/setup">
            <span class="grow">
              Only <b>{people[0]?.name}</b> is on the roster.
              <span class="second small dim">Hold points are signed by several people. Admit the others in Setup.</span>
            </span>
          </a>
        </li>
      </ul>
    </Sheet>
  );
}

/** What was recorded last, on any tablet that has been heard of. */
function Recorded({ view }: { view: View }) {
  const { timeZone, dayOne } = view.genesis;
  const last = lastEntries(view, LAST);
  return (
    <Sheet title="Recorded last">
      {last.length === 0 ? (
        <p class="pad dim">Nothing yet. The first entry of this casting will stand here.</p>
      ) : (
        <ul class="rows">
          {last.map((kept) => (
            <li key={kept.hash}>
              <a class="row" href={`/record/${kept.hash}`}>
                <span class="grow now-entry">
                  <b>{kindName(kept.entry.kind)}</b> {entryWords(view, kept)}
                </span>
                <span class="small dim now-when">
                  {view.standing.person(kept.entry.by)?.name ?? 'somebody not admitted'}
                  <span>{dayAndTime(kept.entry.recordedAt, dayOne, timeZone)}</span>
                </span>
              </a>
            </li>
          ))}
        </ul>
      )}
    </Sheet>
  );
}
