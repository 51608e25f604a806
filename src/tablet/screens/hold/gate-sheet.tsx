import { doubtWords } from '../../../../shared/logbook/state/doubt-words.ts';
import { findings } from '../../../../shared/logbook/state/findings.ts';
import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import type { Signature } from '../../../../shared/logbook/state/signatures.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { workBehind } from '../../../../shared/logbook/state/work-behind.ts';
import { dayAndTime } from '../../app/time.ts';
import { GateOnRoad, GateWord } from '../../parts/gate.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import { FindingLink } from '../../shared-screens/finding-link.tsx';
import { knowledgeWords } from '../../shared-screens/knowledge-words.ts';
import { Missing } from './missing.tsx';

/** The gate with its state, and beside it what stands between it and its release. */
export function GateSheet({ view, state }: { view: View; state: HoldState }) {
  const { hold, status, missing } = state;
  const things = missing.length + state.refusals.length + (state.unsound ? 1 : 0);
  return (
    <Sheet graduated label={`${hold.id} ${hold.name}`} class="hold-gate">
      <div class="hold-now">
        <GateOnRoad state={status} />
        <div>
          <p class="small dim">hold point, before {hold.before.join(', ') || 'delivery'}</p>
          <h2 class="hold-name">
            {hold.id} {hold.name}
          </h2>
          <p>
            <GateWord state={status} />{' '}
            {(status === 'open' || (status === 'in-doubt' && things > 0)) && (
              <>
                <b>{things === 1 ? '1 thing' : `${things} things`}</b> before release
              </>
            )}
            {status === 'ready' &&
              (state.unsound
                ? 'everything stands; one more signature is wanted'
                : 'everything stands; the signatures are next')}
          </p>
          {hold.hotRule && <p class="note">{hold.hotRule}</p>}
        </div>
      </div>
      <div class="hold-list">
        {status === 'in-doubt' && <Doubts view={view} state={state} />}
        {status === 'released' ? <Released view={view} state={state} /> : <Missing view={view} state={state} />}
      </div>
    </Sheet>
  );
}

function Doubts({ view, state }: { view: View; state: HoldState }) {
  const { doubts } = state;
  return (
    <>
      <h3 class="outside">Why it is in doubt</h3>
      <ol class="rows">
        {doubts.slice(0, 6).map((doubt) => (
          <li key={`${doubt.reason}${doubt.entry.hash}`}>
            <a class="row" href={`/record/${doubt.entry.hash}`}>
              <span class="grow">
                {doubtWords(view, doubt)}
                <span class="note">
                  {' '}
                  {dayAndTime(doubt.entry.entry.recordedAt, view.genesis.dayOne, view.genesis.timeZone)}
                </span>
              </span>
            </a>
          </li>
        ))}
      </ol>
      {doubts.length > 6 && <p class="note hold-pad">and {doubts.length - 6} more</p>}
      <p class="small hold-pad">Look at them, then sign again with the evidence as it now stands.</p>
      <Behind view={view} state={state} />
      <h3>What was signed</h3>
      <Releases view={view} signatures={state.stale} />
    </>
  );
}

/** Work that stands recorded behind a gate in doubt: kept, and flagged. */
function Behind({ view, state }: { view: View; state: HoldState }) {
  const behind = workBehind(view, state.hold);
  const flagged = findings(view).filter((f) => f.rule === 'behind-doubt' && f.subject[1] === state.hold.id);
  if (behind.length === 0) return <p class="small dim hold-pad">No work is recorded behind it yet.</p>;
  return (
    <>
      <h3 class="outside">
        Work behind it while it is in doubt <span class="n">{behind.length}</span>
      </h3>
      <ul class="rows">
        {behind.slice(0, 4).map((kept) => (
          <li key={kept.hash}>
            <a class="row" href={`/record/${kept.hash}`}>
              <span class="grow">
                <b>{kindName(kept.entry.kind)}</b> {entryWords(view, kept)}
                <span class="note">
                  {' '}
                  {view.standing.person(kept.entry.by)?.name}, {at(view, kept.entry.recordedAt)}
                </span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {behind.length > 4 && <p class="note hold-pad">and {behind.length - 4} more; all are kept</p>}
      {flagged.map((finding) => (
        <FindingLink key={finding.id} finding={finding} />
      ))}
    </>
  );
}

const at = (view: View, time: string): string => dayAndTime(time, view.genesis.dayOne, view.genesis.timeZone);

function Released({ view, state }: { view: View; state: HoldState }) {
  return (
    <>
      <h3>Released</h3>
      {state.signedUnder !== view.planHash && (
        <p class="small hold-pad">
          Under plan revision {view.plans.get(state.signedUnder ?? '')?.revision}, which goes on judging what was
          released. Revision {view.plan.revision} is in force since.
        </p>
      )}
      <Releases view={view} signatures={state.signatures} />
      {state.signedUnder !== view.planHash && (
        <a class="button hold-plan" href="/plan">
          What revision {view.plan.revision} says of it
        </a>
      )}
    </>
  );
}

/** Who signed, when, over how many entries, and from how many tablets. */
function Releases({ view, signatures }: { view: View; signatures: readonly Signature[] }) {
  return (
    <ul class="rows">
      {signatures.map(({ release }) => (
        <li key={release.hash}>
          <a class="row" href={`/record/${release.hash}`}>
            <span class="grow">
              <b>{release.body.name}</b>
              <span class="note">
                {' '}
                {at(view, release.entry.recordedAt)}, having seen {release.body.evidence.length} entries,{' '}
                {knowledgeWords(view, release)}
              </span>
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}
