import { characteristicById } from '../../plan/lookup.ts';
import type { Kept } from '../log.ts';
import type { Fact } from './findings.ts';
import { stationStates } from './readings.ts';
import type { View } from './view.ts';

/** Surveys that are compared with one before: the plan's rule is one instrument for a comparison pair. */
const PAIRS: Readonly<Record<string, string>> = { '5.1': '2.4', '7.2': '6.4' };

/** A characteristic whose two passes were read with different instruments. */
export function anotherInstrument(view: View, operation: string): Fact[] {
  const before = PAIRS[operation];
  const planned = view.plan.operations.find((o) => o.id === operation);
  if (before === undefined || !planned) return [];
  return planned.measures.flatMap((id): Fact[] => {
    const first = new Set(readingsOf(view, before, id).map((r) => r.body.instrument));
    const others = readingsOf(view, operation, id).filter((r) => !first.has(r.body.instrument));
    if (first.size === 0 || others.length === 0) return [];
    const name = characteristicById(view.plan, id)?.name ?? id;
    return [
      {
        rule: 'another-instrument',
        subject: [operation, id],
        operation,
        characteristic: id,
        severity: 'minor',
        blocks: null,
        title: `${name}: read with another instrument than in ${before}`,
        words: `${named(others)} in ${operation}, ${[...first].map(nameOf).sort().join(', ')} in ${before}. Say how the two are tied together, or read it again with the same.`,
        causes: others.map((r) => r.hash),
        settled: false,
      },
    ];
  });
}

const readingsOf = (view: View, operation: string, characteristic: string): Kept<'reading'>[] =>
  [...stationStates(view, operation, characteristic).values()].flatMap((s) => [...s.current]);

const nameOf = (instrument: string | null): string => instrument ?? 'no instrument';

const named = (readings: readonly Kept<'reading'>[]): string =>
  [...new Set(readings.map((r) => nameOf(r.body.instrument)))].sort().join(', ');
