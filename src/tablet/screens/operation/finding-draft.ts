import type { Body, Photo, Severity } from '../../../../shared/logbook/kinds.ts';
import { roundsTitle } from '../../../../shared/logbook/state/conditions.ts';
import type { Operation, Plan } from '../../../../shared/plan/schema.ts';

/** A finding as it is being written. Empty strings are nothing chosen. */
export interface FindingDraft {
  /** The kind that was chosen, or `own` for own words. */
  readonly kind: string;
  readonly title: string;
  readonly words: string;
  readonly severity: Severity | '';
  readonly blocks: string;
  /** Who looks after it; empty where it falls to the crew lead. */
  readonly owner: string;
  readonly characteristic: string;
  readonly station: string;
  readonly photos: readonly Photo[];
}

export const emptyFinding: FindingDraft = {
  kind: '',
  title: '',
  words: '',
  severity: '',
  blocks: '',
  owner: '',
  characteristic: '',
  station: '',
  photos: [],
};

export interface FindingKind {
  readonly name: string;
  readonly severity: Severity;
  readonly blocks: string | null;
  /** What usually becomes of it. */
  readonly usual: string;
}

/** The findings that an operation's stage usually has; missing rounds keep the title that a hold point looks for. */
export function findingKindsOf(plan: Plan, operation: Operation): FindingKind[] {
  const usual = plan.findingKinds
    .filter((kind) => kind.stage === operation.stage)
    .map(({ name, severity, blocks, usualDisposition }) => ({ name, severity, blocks, usual: usualDisposition }));
  if (operation.heatPlan === null) return usual;
  const { heatPlan } = operation;
  const needing = plan.holds.find((h) => h.requirements.some((r) => r.kind === 'rounds' && r.heatPlan === heatPlan));
  return [
    { name: roundsTitle(heatPlan), severity: 'major', blocks: needing?.id ?? null, usual: 'Concession' },
    ...usual,
  ];
}

/** The body of the entry, or what is still to be said. */
export function findingBody(draft: FindingDraft, operation: string): Body<'finding'> | { ask: string } {
  const title = draft.title.trim();
  if (title === '') return { ask: 'Say in a few words what is wrong.' };
  if (draft.severity === '') return { ask: 'Choose its severity.' };
  return {
    operation,
    title,
    severity: draft.severity,
    blocks: draft.blocks || null,
    ...(draft.owner ? { owner: draft.owner } : {}),
    ...(draft.words.trim() ? { words: draft.words.trim() } : {}),
    ...(draft.characteristic ? { characteristic: draft.characteristic } : {}),
    ...(draft.photos.length > 0 ? { photos: [...draft.photos] } : {}),
    ...(draft.characteristic && draft.station ? { station: draft.station } : {}),
  };
}
