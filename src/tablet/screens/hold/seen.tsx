import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { openStore } from '../../app/tablet.ts';
import { now } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { knowledgeWordsNow } from '../../shared-screens/knowledge-words.ts';

/** What a signature here would be made from: how far this tablet has each admitted tablet's chain. */
export function Seen({ view, state, counted }: { view: View; state: HoldState; counted: boolean }) {
  const { device } = openStore();
  const tablets = view.standing.tablets();
  return (
    <Sheet
      title="What this tablet has seen"
      aside={`${counted ? state.evidence.length : '–'} in evidence`}
      class="hold-seen"
    >
      {state.status !== 'released' && (
        <p class="hold-pad">A signature now is made {knowledgeWordsNow(view, device, now.value)}.</p>
      )}
      <ul class="rows">
        {tablets.map((tablet) => {
          const head = view.log.head(tablet.device);
          return (
            <li key={tablet.device}>
              <span class="grow">
                {tablet.name}
                <span class="note">
                  {' '}
                  {tablet.device === device ? 'this tablet' : tablet.retired ? 'retired' : 'admitted'}
                </span>
              </span>
              <span class="n">{head ? head[0] : 0}</span>
              <span class="small dim">{head ? 'entries here' : 'nothing here yet'}</span>
            </li>
          );
        })}
      </ul>
    </Sheet>
  );
}
