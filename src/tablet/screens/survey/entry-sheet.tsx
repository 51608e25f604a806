import { useState } from 'preact/hooks';
import { Sheet } from '../../parts/sheet.tsx';
import { PassSheet } from './pass-sheet.tsx';
import { ReadingEntry } from './reading-entry.tsx';
import { StationSheet, StrikeSheet } from './station-sheet.tsx';
import { isSingle } from './survey-of.ts';
import type { Pass } from './use-pass.ts';

/** Characters that leave no room beside them. */
const LONG_LABEL = 24;

/** The sheet that wants the hand: the station, and typing its reading or what stands there. */
export function EntrySheet({ pass }: { pass: Pass }) {
  const [open, setOpen] = useState<'pass' | 'reason' | null>(null);
  const { item, survey, draft } = pass;
  const redo = draft.redo[item.station.id];
  // Until the next station stands, what was just saved stays under the hand that types.
  const entering = item.value === null || redo !== undefined || pass.saving;
  const long = item.station.label.length > LONG_LABEL;
  const number = survey.items.findIndex((i) => i.station.id === item.station.id) + 1;
  return (
    <Sheet
      class="entry-sheet"
      graduated
      title={
        isSingle(survey.characteristic) ? 'Reading' : <span class={long ? 'long-label' : ''}>{item.station.label}</span>
      }
      aside={
        survey.items.length > 1 &&
        !long && (
          <>
            station <span class="n">{number}</span> of <span class="n">{survey.items.length}</span>
          </>
        )
      }
    >
      {entering ? (
        <ReadingEntry pass={pass} onInstrument={() => setOpen('pass')} onReason={() => setOpen('reason')} />
      ) : (
        <StationSheet pass={pass} onReason={() => setOpen('reason')} />
      )}
      {open === 'pass' && <PassSheet pass={pass} onClose={() => setOpen(null)} />}
      {open === 'reason' && <StrikeSheet pass={pass} correcting={entering} onClose={() => setOpen(null)} />}
    </Sheet>
  );
}
