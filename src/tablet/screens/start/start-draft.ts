import type { Role } from '../../../../shared/logbook/kinds.ts';
import { practiceDesign } from '../../../../shared/plan/practice-design.ts';
import { settings } from '../../app/settings.ts';
import { dateIn } from '../../app/time.ts';
import { type Draft, useDraft } from '../../app/use-draft.ts';
import { type DesignTexts, textsOf } from './read-design.ts';

/** Everything that is typed before a casting is there. The PIN is no part of it: it is never kept. */
export interface StartDraft {
  readonly design: DesignTexts;
  readonly name: string;
  readonly dayOne: string;
  readonly timeZone: string;
  readonly tabletName: string;
  readonly founderName: string;
  readonly founderRoles: readonly Role[];
}

/** The figures of the practice blank: a starting point, and marked as one until they are typed over. */
export const startingPoint = (): DesignTexts => textsOf(practiceDesign, settings.value.decimalMark);

const tabletZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

function emptyDraft(): StartDraft {
  const timeZone = tabletZone();
  return {
    design: startingPoint(),
    name: '',
    dayOne: dateIn(new Date(), timeZone),
    timeZone,
    tabletName: 'Tablet 1',
    founderName: '',
    founderRoles: [],
  };
}

/** No casting is open yet, so what is typed is kept with the tablet's own settings. */
export const useStartDraft = (): Draft<StartDraft> => useDraft('draft/start', emptyDraft(), { where: 'tablet' });
