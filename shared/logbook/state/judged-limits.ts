import { characteristicById, type LimitsAt, limitsAt } from '../../plan/lookup.ts';
import type { Plan } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { sameLimits } from './readings.ts';
import { releasedWork } from './signatures.ts';
import type { View } from './view.ts';

/**
 * The limits that judge a reading. Read under the plan in force, or of a characteristic that it no longer has: those that
 * its reader was shown. Released: those of the revision that it was released under. Else those of the plan in force.
 */
export function limitsOfReading(view: View, { body, hash }: Kept<'reading'>): LimitsAt {
  const { characteristic, operation, station } = body;
  const planned = characteristicById(view.plan, characteristic);
  if (body.plan === view.planHash || !planned) return body.limits;
  // Read while it still moved: nothing limited it then, whatever the plan says of the place where it comes to rest.
  if (planned.sampling.repeated && body.limits.lower === null && body.limits.upper === null) return body.limits;
  const now = limitsAt(view.plan, characteristic, operation, station);
  // With one revision nothing was released under another; asking would come back here.
  if (view.byThisPlan || view.plans.size === 1 || sameLimits(now, body.limits)) return now;
  const released = releasedWork(view).get(hash);
  if (released === undefined) return now;
  return released === body.plan ? body.limits : limitsAt(view.plans.get(released)!, characteristic, operation, station);
}

/** The plan that judges what is worked out from readings: the one under which all of them were released, else the one in force. */
export function planOfReadings(view: View, readings: readonly string[]): Plan {
  if (view.byThisPlan || view.plans.size === 1 || readings.length === 0) return view.plan;
  const released = releasedWork(view);
  const under = released.get(readings[0]!);
  const together = under !== undefined && readings.every((hash) => released.get(hash) === under);
  return (together ? view.plans.get(under) : undefined) ?? view.plan;
}
