import type { View } from '../../../../shared/logbook/state/view.ts';
import { Sign } from '../../parts/icons.tsx';

/** Warns where now is no time to hand over; else says when it would not be. */
export function Moments({ view, now }: { view: View; now: readonly string[] }) {
  const { notDuring } = view.plan.handover;
  if (now.length > 0) {
    return (
      <p class="ho-moment" role="status">
        <Sign sign="warning" />
        <span>
          <b>Not a moment to hand over: {said(now)}.</b> Finish it, or make it safe, first.
        </span>
      </p>
    );
  }
  if (notDuring.length === 0) return null;
  return <p class="note ho-never">Do not hand over during: {said(notDuring)}.</p>;
}

const said = (moments: readonly string[]): string =>
  moments.map((m) => m.charAt(0).toLowerCase() + m.slice(1)).join(', ');
