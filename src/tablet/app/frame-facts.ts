import { findings } from '../../../shared/logbook/state/findings.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import type { SpineProps } from '../parts/spine.tsx';
import { spineOf } from './spine.ts';

/** What stands around every screen, as plain data. */
export interface FrameFacts {
  readonly casting: string;
  readonly practice: boolean;
  readonly timeZone: string;
  readonly dayOne: string;
  readonly revision: string;
  readonly spine: SpineProps;
  /** Findings that wait, minor ones not counted. */
  readonly open: number;
}

export function frameFacts(view: View): FrameFacts {
  const { name, practice, timeZone, dayOne } = view.genesis;
  const open = findings(view).filter((f) => f.state === 'open' && f.severity !== 'minor').length;
  return { casting: name, practice, timeZone, dayOne, revision: view.plan.revision, spine: spineOf(view), open };
}
