import { holdState } from '../../../../shared/logbook/state/holds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { person } from '../../app/session.ts';
import { view } from '../../app/tablet.ts';
import { HoldInDoubt, NextHold, OpenFindings } from './ahead.tsx';
import { CrewFirst, NextWork, OtherWork, Recorded, WhoFirst } from './next.tsx';
import { openWork } from './next-work.ts';
import './now.css';

/** What this shift does next. */
export function Now() {
  const v = view.value;
  if (!v) return null;
  const work = openWork(v);
  const first = work[0]?.operation;
  return (
    <Screen
      place="now"
      name="Now"
      {...(first ? { operation: first.name, detail: `operation ${first.id} · ${v.genesis.name}` } : {})}
      work="work-two now"
    >
      <div class="stack">
        {!person.value && <WhoFirst />}
        <NextWork view={v} work={work} waits={person.value === null} />
        <OtherWork view={v} work={work.slice(1)} />
        <Recorded view={v} />
        <CrewFirst view={v} />
      </div>
      <Ahead view={v} />
    </Screen>
  );
}

function Ahead({ view: v }: { view: View }) {
  const holds = v.plan.holds.map((hold) => holdState(v, hold)).filter((state) => state.status !== 'released');
  const next = holds.find((state) => state.status !== 'in-doubt');
  return (
    <div class="stack">
      {holds
        .filter((state) => state.status === 'in-doubt')
        .map((state) => (
          <HoldInDoubt key={state.hold.id} view={v} state={state} />
        ))}
      {next && <NextHold state={next} />}
      <OpenFindings view={v} />
    </div>
  );
}
