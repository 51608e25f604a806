import { useState } from 'preact/hooks';
import { lazy } from 'preact-iso';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import type { PassDraft } from '../pass-draft.ts';
import type { Survey } from '../survey-of.ts';

const PasteSheet = lazy(() => import('./paste-sheet.tsx').then((m) => m.PasteSheet));

/** To many readings at once, where a survey has more than one station. */
export function PasteButton({ view, survey, pass }: { view: View; survey: Survey; pass: () => PassDraft }) {
  const [open, setOpen] = useState(false);
  const [said, say] = useState<string | null>(null);
  if (survey.items.length < 2) return null;
  return (
    <>
      <button type="button" class="button" onClick={() => setOpen(true)}>
        Paste or file
      </button>
      {said && (
        <p class="small" role="status">
          {said}
        </p>
      )}
      {open && (
        <PasteSheet
          view={view}
          survey={survey}
          pass={pass()}
          onClose={(words) => {
            setOpen(false);
            say(words ?? null);
          }}
        />
      )}
    </>
  );
}
