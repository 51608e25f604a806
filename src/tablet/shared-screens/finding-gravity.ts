import type { Severity } from '../../../shared/logbook/kinds.ts';

const gravity: readonly Severity[] = ['critical', 'major', 'minor'];

/** The gravest first. */
export const byGravity = (a: { severity: Severity }, b: { severity: Severity }): number =>
  gravity.indexOf(a.severity) - gravity.indexOf(b.severity);
