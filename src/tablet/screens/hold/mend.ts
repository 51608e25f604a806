import type { Mend } from '../../../../shared/logbook/state/conditions.ts';

/** The one button that mends a missing thing: its words and where it goes. Statements are made on the spot. */
export function mendLink(mend: Mend): { words: string; href: string } | null {
  switch (mend.to) {
    case 'sheet':
      return { words: `Check sheet ${mend.operation}`, href: `/sequence/${mend.operation}#sheet` };
    case 'operation':
      return { words: `Operation ${mend.operation}`, href: `/sequence/${mend.operation}` };
    case 'photos':
      return { words: 'Photos', href: `/sequence/${mend.operation}#photos` };
    case 'survey': {
      // No survey has the level: it is read on the furnace.
      if (mend.characteristic === 'melt-level')
        return { words: 'Read the level', href: `/furnace/${mend.operation}/melt` };
      const station =
        mend.station === null || mend.station === 'one' ? '' : `?station=${encodeURIComponent(mend.station)}`;
      return { words: 'Measure', href: `/survey/${mend.operation}/${mend.characteristic}${station}` };
    }
    case 'finding':
      return { words: 'Decide', href: `/findings/${mend.finding}` };
    case 'hold':
      return { words: `Hold point ${mend.hold}`, href: `/hold/${mend.hold}` };
    case 'instruments':
      return { words: 'Instruments', href: '/setup?part=instruments' };
    case 'record':
      return { words: 'Look at the record', href: '/record' };
    case 'statement':
    case 'witness':
      return null;
  }
}
