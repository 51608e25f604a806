import type { Hold } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { byTime } from './readings.ts';
import { workOn } from './sequence.ts';
import type { View } from './view.ts';

/** Work that stands recorded behind a hold point, the newest first: kept, and flagged while its release is in doubt. */
export const workBehind = (view: View, hold: Hold): Kept[] =>
  hold.before.flatMap((operation) => workOn(view, operation)).sort((a, b) => byTime(b, a));
