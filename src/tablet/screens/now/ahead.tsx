import type { Condition } from '../../../../shared/logbook/state/conditions.ts';
import { doubtWords } from '../../../../shared/logbook/state/doubt-words.ts';
import { findings } from '../../../../shared/logbook/state/findings.ts';
import { type HoldState, holdState } from '../../../../shared/logbook/state/holds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { Gate, gateWord } from '../../parts/gate.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { byGravity } from '../../shared-screens/finding-gravity.ts';
import { FindingList } from '../../shared-screens/finding-list.tsx';
import { holdWords } from '../../shared-screens/next-work.ts';

const CONDITIONS = 3;
const DOUBTS = 2;
const FINDINGS = 3;

/** The hold points ahead, and the findings that wait. */
export function Ahead({ view }: { view: View }) {
  const holds = view.plan.holds.map((hold) => holdState(view, hold)).filter((state) => state.status !== 'released');
  const next = holds.find((state) => state.status !== 'in-doubt');
  return (
    <>
      {holds
        .filter((state) => state.status === 'in-doubt')
        .map((state) => (
          <HoldInDoubt key={state.hold.id} view={view} state={state} />
        ))}
      {next && <NextHold state={next} />}
      <OpenFindings view={view} />
    </>
  );
}

function HoldRow({ state }: { state: HoldState }) {
  const { hold, status } = state;
  return (
    <a class="row" href={`/hold/${hold.id}`}>
      <Gate state={status} size={48} decorative />
      <span class="grow">
        <b class="now-lead">
          {hold.id} {hold.name}
        </b>
        <span class="second small dim">
          {gateWord(status)}, {holdWords(state)}
        </span>
      </span>
    </a>
  );
}

/** A release that no longer says what its signers had seen, and why. */
function HoldInDoubt({ view, state }: { view: View; state: HoldState }) {
  const doubts = new Set(state.doubts.map((d) => doubtWords(view, d)));
  return (
    <Sheet title="Hold point in doubt">
      <HoldRow state={state} />
      <ul class="rows now-conditions">
        {[...doubts].slice(0, DOUBTS).map((words) => (
          <li key={words} class="small">
            {words}
          </li>
        ))}
        {doubts.size > DOUBTS && <li class="small dim">and {doubts.size - DOUBTS} more</li>}
      </ul>
    </Sheet>
  );
}

/** The next hold point with what it still waits for. */
function NextHold({ state }: { state: HoldState }) {
  const { missing } = state;
  const more = missing.length - CONDITIONS;
  return (
    <Sheet title="Next hold point">
      <HoldRow state={state} />
      {missing.length > 0 && (
        <ul class="rows now-conditions">
          {missing.slice(0, CONDITIONS).map((condition) => (
            <li key={condition.id}>
              <Missing condition={condition} />
            </li>
          ))}
          {more > 0 && <li class="small dim">and {more} more</li>}
        </ul>
      )}
    </Sheet>
  );
}

function Missing({ condition }: { condition: Condition }) {
  const { id, title, words, verdict } = condition;
  return (
    <>
      {verdict ? (
        <VerdictMark verdict={verdict} wordless />
      ) : (
        <ConditionMark condition={id === 'findings' ? 'blocks' : 'not-yet'} size={22} decorative />
      )}
      <span class="grow small">
        {title}
        <span class="second dim">{words}</span>
      </span>
    </>
  );
}

/** Findings that nobody has decided on, the gravest first. */
function OpenFindings({ view }: { view: View }) {
  const open = findings(view)
    .filter((f) => f.state === 'open')
    .sort(byGravity);
  if (open.length === 0) {
    return (
      <Sheet title="Findings" aside="none open">
        <p class="pad dim">No finding waits for a decision.</p>
      </Sheet>
    );
  }
  return (
    <Sheet title="Findings" aside={`${open.length} open`}>
      <FindingList findings={open.slice(0, FINDINGS)}>
        {open.length > FINDINGS && (
          <li>
            <a class="row" href="/findings">
              All {open.length} open findings
            </a>
          </li>
        )}
      </FindingList>
    </Sheet>
  );
}
