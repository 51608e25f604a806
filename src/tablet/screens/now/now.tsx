import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { Screen } from '../../app/screen.tsx';
import { person } from '../../app/session.ts';
import { view } from '../../app/tablet.ts';
import { openWork } from '../../shared-screens/next-work.ts';
import { NextWork, WhoFirst } from './next.tsx';
import './now.css';

/** What stands around the next piece of work; it follows once that is on the screen, so that the first load is short. */
const around = signal<typeof import('./around.tsx') | null>(null);

async function loadAround(): Promise<void> {
  around.value ??= await import('./around.tsx');
}

/** What this shift does next. */
export function Now() {
  useEffect(() => {
    void loadAround();
  }, []);
  const v = view.value;
  if (!v) return null;
  const work = openWork(v);
  const first = work[0]?.operation;
  const rest = around.value;
  const heat = rest?.runningHeat(v) ?? null;
  const nobody = person.value === null;
  return (
    <Screen
      place="now"
      name="Now"
      {...(first ? { operation: first.name, detail: `operation ${first.id} · ${v.genesis.name}` } : {})}
      work="work-two now"
    >
      <div class="stack">
        {nobody && <WhoFirst />}
        {rest && heat && <rest.DueRound view={v} heat={heat} waits={nobody} />}
        <NextWork view={v} work={work} waits={nobody || heat !== null} />
        {rest && <rest.Beside view={v} work={work.slice(1)} />}
      </div>
      <div class="stack">{rest && <rest.Ahead view={v} />}</div>
    </Screen>
  );
}
