import type { Hold } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import { merkleRoot } from '../merkle.ts';
import { inCalibration, instrument } from './instruments.ts';
import { readingScope, stationStates } from './readings.ts';
import { withPredecessors } from './sequence.ts';
import type { View } from './view.ts';

/** The operations whose work a hold point looks at: its own, and those that its requirements name. */
export const operationsOf = (hold: Hold): string[] => [
  ...new Set([...hold.operations, ...hold.requirements.flatMap((r) => ('operation' in r ? [r.operation] : []))]),
];

export interface UsedInstrument {
  readonly id: string;
  /** Whether it was in calibration at every use that stands. */
  readonly calibrated: boolean;
}

/** The instruments of the readings that stand in the hold point's operations. */
export const usedInstruments = (view: View, hold: Hold): UsedInstrument[] =>
  allUsed(view, hold).filter(({ stands }) => stands);

interface Use extends UsedInstrument {
  /** Whether any reading with it stands. */
  readonly stands: boolean;
}

/** With those whose readings were struck or taken again: they too are what a signer had seen. */
function allUsed(view: View, hold: Hold): Use[] {
  const used = new Map<string, Use>();
  for (const operation of operationsOf(hold)) {
    for (const use of usedIn(view, operation)) used.set(use.id, both(use, used.get(use.id)));
  }
  return [...used.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}

const both = (a: Use, b: Use = a): Use => ({
  id: a.id,
  calibrated: a.calibrated && b.calibrated,
  stands: a.stands || b.stands,
});

const usedIn = (view: View, operation: string): readonly Use[] =>
  view.memo.get(`instruments of/${operation}`, () => {
    const used = new Map<string, Use>();
    for (const scope of view.log.scopeNames(`reading/${operation}/`)) {
      for (const { current, history } of stationStates(view, operation, scope.split('/')[2]!).values()) {
        for (const reading of history) {
          const id = reading.body.instrument;
          if (id === null) continue;
          const stands = current.includes(reading);
          const calibrated = !stands || inCalibration(instrument(view, id), reading.entry.observedAt);
          used.set(id, both({ id, calibrated, stands }, used.get(id)));
        }
      }
    }
    return [...used.values()];
  });

/** What a signature now would cover: sorted hashes. */
export const evidenceHashes = (view: View, hold: Hold): readonly string[] =>
  view.memo.get(`evidence/${hold.id}`, () => evidenceOf(view, hold).map((k) => k.hash));

/** The RFC 9162 root of what a signature now would cover. */
export const evidenceRoot = (view: View, hold: Hold): string =>
  view.memo.get(`root/${hold.id}`, () => merkleRoot(evidenceHashes(view, hold)));

/** The entries that a release of this hold point stands on, those that count, sorted by hash. */
function evidenceOf(view: View, hold: Hold): Kept[] {
  return scopeOf(view, hold)
    .filter((kept) => view.standing.counts(kept))
    .sort((a, b) => (a.hash < b.hash ? -1 : 1));
}

/** Everything in the hold point's scope: its operations' marks, sheets, readings, rounds, photos, cores, findings, decisions, instruments and strikes. */
export function scopeOf(view: View, hold: Hold): Kept[] {
  const names = operationsOf(hold).flatMap((op) => [
    `sheet/${op}`,
    `round/${op}`,
    `finding/${op}`,
    `photo/${op}`,
    `disposition/${op}`,
    `check/${op}`,
    `cores/${op}`,
    ...view.log.scopeNames(`reading/${op}/`),
  ]);
  const marks = withPredecessors(view, [...hold.operations, hold.after]).map((op) => `operation/${op}`);
  const witnesses = hold.requirements.flatMap((r) => (r.kind === 'witness' ? [`witness/${r.witness}`] : []));
  const used = allUsed(view, hold).map(({ id }) => `instrument/${id}`);
  const entries = [
    ...names,
    ...sourcesOf(view, hold),
    ...marks,
    ...witnesses,
    ...used,
    `attestation/${hold.id}`,
  ].flatMap((name) => view.log.inScope(name));
  const strikes = entries.flatMap((kept) => view.log.inScope(`strike/${kept.hash}`));
  return [...new Map([...entries, ...strikes].map((kept) => [kept.hash, kept])).values()];
}

/** Where the readings lie that a required derived value comes from: a change is as much the first survey as the second. */
function sourcesOf(view: View, hold: Hold): string[] {
  const before = withPredecessors(view, [hold.after]);
  return hold.requirements.flatMap((r) => {
    if (r.kind !== 'characteristic') return [];
    const sources =
      view.plan.characteristics.find((c) => c.id === r.characteristic)?.derivedFrom?.characteristics ?? [];
    return sources.flatMap((source) => {
      const operations = view.plan.characteristics.find((c) => c.id === source)?.operations ?? [];
      return operations.filter((op) => before.includes(op)).map((op) => readingScope(op, source));
    });
  });
}
