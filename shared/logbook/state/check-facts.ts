import { addressWords } from '../../plan/core-stations.ts';
import { operationById } from '../../plan/lookup.ts';
import { checkedStations } from './checks.ts';
import type { Fact } from './findings.ts';
import type { View } from './view.ts';

/** What was answered no at stations: one fact for each act, with the stations at which it still stands. */
export function checkFacts(view: View, operation: string): Fact[] {
  const checks = operationById(view.plan, operation)?.checks ?? [];
  return checks.flatMap(({ id, text }) => {
    const stations = new Map<string, string[]>();
    const words = new Map<string, string | undefined>();
    for (const [station, { answer, by }] of checkedStations(view, operation, id)) {
      if (answer !== 'no') continue;
      stations.set(by.hash, [...(stations.get(by.hash) ?? []), station]);
      words.set(by.hash, by.body.words);
    }
    return [...stations].map(
      ([hash, at]): Fact => ({
        rule: 'answered-no',
        subject: [hash],
        operation,
        ...(at.length === 1 ? { station: at[0]! } : {}),
        severity: 'major',
        blocks: null,
        title: `Answered no at ${at.length === 1 ? 'core' : 'cores'} ${addressWords(at)}: ${text}`,
        words: words.get(hash) ?? 'No words were given.',
        causes: [hash],
        settled: false,
      }),
    );
  });
}
