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

/** The instruments of the readings that stand in the hold point's operations, and whether each was in calibration at every use. */
export function usedInstruments(view: View, hold: Hold): { id: string; calibrated: boolean }[] {
  const used = new Map<string, boolean>();
  for (const operation of operationsOf(hold)) {
    for (const [id, calibrated] of instrumentsOf(view, operation)) used.set(id, (used.get(id) ?? true) && calibrated);
  }
  return [...used].sort().map(([id, calibrated]) => ({ id, calibrated }));
}

const instrumentsOf = (view: View, operation: string): ReadonlyMap<string, boolean> =>
  view.memo.get(`instruments of/${operation}`, () => {
    const used = new Map<string, boolean>();
    for (const scope of view.log.scopeNames(`reading/${operation}/`)) {
      for (const { current } of stationStates(view, operation, scope.split('/')[2]!).values()) {
        for (const { body, entry } of current) {
          if (body.instrument === null || used.get(body.instrument) === false) continue;
          used.set(body.instrument, inCalibration(instrument(view, body.instrument), entry.observedAt));
        }
      }
    }
    return used;
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
  const used = usedInstruments(view, hold).map(({ id }) => `instrument/${id}`);
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
