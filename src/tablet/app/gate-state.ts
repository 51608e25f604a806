import type { HoldState } from '../../../shared/logbook/state/holds.ts';
import { firstWork } from '../../../shared/logbook/state/sequence.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import type { GateState } from '../parts/gate.tsx';

/** How a hold point's gate is drawn: not reached while nobody has begun the operation that it comes after. */
export const gateState = (view: View, { hold, status }: HoldState): GateState =>
  status === 'open' && firstWork(view, hold.after) === null ? 'not-reached' : status;
