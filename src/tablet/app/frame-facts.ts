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
  /** The one in force, and whether others wait. */
  readonly revision: string;
  readonly spine: SpineProps;
  /** Findings that wait, minor ones not counted. */
  readonly open: number;
}

export function frameFacts(view: View): FrameFacts {
  const { name, practice, timeZone, dayOne } = view.genesis;
  const open = findings(view).filter((f) => f.state === 'open' && f.severity !== 'minor').length;
  const waiting = view.heads.length > 1 ? `, ${view.heads.length} others wait to be joined` : '';
  const revision = `${view.plan.revision}${waiting}`;
  return { casting: name, practice, timeZone, dayOne, revision, spine: spineOf(view), open };
}
