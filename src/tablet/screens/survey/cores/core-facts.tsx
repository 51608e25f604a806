import { useMemo, useState } from 'preact/hooks';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { coreLift } from '../../../../../shared/plan/core-lift.ts';
import type { Characteristic } from '../../../../../shared/plan/schema.ts';
import { Figure } from '../../../parts/figure.tsx';
import { Overlay } from '../../../parts/overlay.tsx';
import { CalculationWorking } from '../../../shared-screens/calculation-working.tsx';

/** What a pin is pulled for: the lift of the core in glass, against what it is asked to hold. */
export function PinLift({ view, address, least_N }: { view: View; address: string; least_N: number | null }) {
  const [open, setOpen] = useState(false);
  const lift = useMemo(() => coreLift(view.plan, address), [view.plan, address]);
  if (!lift) return null;
  return (
    <>
      <button type="button" class="button pin-lift" onClick={() => setOpen(true)}>
        <span class="small">
          Lift in glass <Figure value={lift.uplift_N} decimals={1} unit="N" />
          {least_N !== null && (
            <span class="note second">
              the limit is <Figure value={least_N / lift.uplift_N} decimals={1} /> times that
            </span>
          )}
        </span>
      </button>
      {open && (
        <Overlay title={`Lift of core ${address} in glass`} onClose={() => setOpen(false)}>
          <CalculationWorking calculation="core-uplift" input={lift.input} name={`the lift of core ${address}`} />
        </Overlay>
      )}
    </>
  );
}

/** Pins are pulled in more than one operation. */
export const isPinPull = ({ id }: Characteristic): boolean => id.startsWith('pin-pull');
