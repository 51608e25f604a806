import { useLocation, useRoute } from 'preact-iso';
import { handoverByHash, openHandovers } from '../../../../shared/logbook/state/handovers.ts';
import { openWork } from '../../../../shared/logbook/state/next-step.ts';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { OneHandover } from './one-handover.tsx';
import { Prepare } from './prepare.tsx';
import './handover.css';

/** The shift is handed over in three steps: prepared, talked through, accepted. The guidance is named in docs/decisions. */
export function HandoverScreen() {
  const { params } = useRoute();
  const { route, query } = useLocation();
  const view = openView();
  const open = openHandovers(view);
  const wanted = params.handover;
  const state = wanted === undefined ? ('again' in query ? null : open.at(-1)) : handoverByHash(view, wanted);
  if (wanted !== undefined && !state) {
    return (
      <Screen place="handover" name="Handover" operation="not on this tablet">
        <div class="empty">
          <p>No handover of this name counts on this tablet. It may still be on its way from another.</p>
          <a class="button" href="/handover">
            To the handover
          </a>
        </div>
      </Screen>
    );
  }
  // Verdicts and hold points want the calculations, which follow the first screen.
  if (view.judge === null) {
    return (
      <Screen place="handover" name="Handover">
        <div class="empty">
          <p>The log is being worked out.</p>
        </div>
      </Screen>
    );
  }
  const first = openWork(view)[0]?.operation;
  return (
    <Screen
      place="handover"
      name="Handover"
      {...(first ? { operation: first.name, detail: `operation ${first.id} · ${view.genesis.name}` } : {})}
      work="ho-work"
    >
      {state ? (
        <OneHandover
          key={state.handover.hash}
          view={view}
          state={state}
          open={open.includes(state)}
          onAgain={() => route('/handover?again')}
        />
      ) : (
        <Prepare view={view} instead={open.at(-1) ?? null} />
      )}
    </Screen>
  );
}
