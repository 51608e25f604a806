import { useMemo } from 'preact/hooks';
import { releasedOtherwise } from '../../../../shared/logbook/state/plan-effects.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { HoldEffects } from './effects.tsx';

/** Hold points that were released under another revision than the one in force: by which, and whether they would pass by it. */
export function ReleasedOtherwise({ view }: { view: View }) {
  const { version } = view.log;
  const all = useMemo(() => releasedOtherwise(view), [view.planHash, view.judge, version]);
  if (all.length === 0) return null;
  const failing = all.filter((h) => h.why.length > 0);
  const passing = all.filter((h) => h.why.length === 0);
  return (
    <Sheet title="Released under an earlier revision" aside={String(all.length)}>
      <p class="pad">They stay released. What they were released for is judged by the revision that was signed.</p>
      <HoldEffects holds={failing} tense="is" revision={view.plan.revision} />
      {passing.length > 0 && (
        <p class="pad small">
          {passing.map((h) => h.hold.id).join(', ')}: would pass by revision {view.plan.revision} as well.
        </p>
      )}
    </Sheet>
  );
}
