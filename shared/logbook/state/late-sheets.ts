import { type Fact, lateFacts } from './findings.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

/** Check sheets that were written too long after they were seen; readings and rounds are told by themselves. */
export const lateSheets = (view: View, operation: string): Fact[] =>
  live(view, `sheet/${operation}`, 'sheet').flatMap((kept) =>
    lateFacts(
      anyKind(kept),
      { operation, subject: [kept.hash], causes: [kept.hash], blocks: null },
      `Check sheet of operation ${operation}`,
    ),
  );
