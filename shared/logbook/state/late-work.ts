import { type Fact, lateFacts } from './findings.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

const KINDS = [
  ['sheet', 'Check sheet'],
  ['round', 'Round'],
] as const;

/** Check sheets and rounds that were written too long after they were seen; readings are told station by station. */
export const lateWork = (view: View, operation: string): Fact[] =>
  KINDS.flatMap(([kind, name]) =>
    live(view, `${kind}/${operation}`, kind).flatMap((kept) =>
      lateFacts(
        anyKind(kept as never),
        { operation, subject: [kept.hash], causes: [kept.hash], blocks: null },
        `${name} of operation ${operation}`,
      ),
    ),
  );
