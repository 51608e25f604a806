import { useRoute } from 'preact-iso';
import { type HoldState, holdById, holdState } from '../../../../shared/logbook/state/holds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Hold } from '../../../../shared/plan/schema.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { useAfterFrame } from '../../parts/use-after-frame.ts';
import { Conditions } from './conditions.tsx';
import { GateSheet } from './gate-sheet.tsx';
import { Seen } from './seen.tsx';
import { Signing } from './signing.tsx';
import { UncountedSheet } from './uncounted.tsx';
import './hold.css';

/** A hold point: the gate, what is missing, the evidence, what this tablet has seen, the signatures. */
export function HoldScreen() {
  const { params } = useRoute();
  const view = openView();
  const hold = holdById(view, params.hold ?? '');
  if (!hold) {
    return (
      <Screen place="sequence" name="Hold point" operation="not in this plan">
        <div class="empty">
          <p>The plan has no hold point {params.hold}.</p>
          <a class="button" href="/sequence">
            To the sequence
          </a>
        </div>
      </Screen>
    );
  }
  return <OneHold key={hold.id} view={view} hold={hold} />;
}

function OneHold({ view, hold }: { view: View; hold: Hold }) {
  // Of thousands of entries it is worked out what is evidence when the gate and its conditions stand.
  const painted = useAfterFrame();
  const state = holdState(view, hold);
  return (
    <Screen
      place="sequence"
      name="Hold point"
      operation={`${hold.id} ${hold.name}`}
      detail={`after ${hold.after}, before ${hold.before.join(', ') || 'delivery'} · ${revisionWords(view, state)}`}
      work="hold-work"
    >
      <GateSheet view={view} state={state} />
      <Conditions view={view} state={state} counted={painted} />
      <Signing key={hold.id} view={view} state={state} />
      <div class="hold-beside">
        {painted && <UncountedSheet view={view} state={state} />}
        <Seen view={view} state={state} counted={painted} />
      </div>
    </Screen>
  );
}

/** The revision that judges it: the one that it was released under, else the one in force. */
const revisionWords = (view: View, { signedUnder }: HoldState): string =>
  signedUnder === null
    ? `plan revision ${view.plan.revision}`
    : `released under plan revision ${view.plans.get(signedUnder)?.revision}`;
