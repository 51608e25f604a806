import type { Body, Kind } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { spoken } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById, operationById, stationsOf } from '../../../../shared/plan/lookup.ts';
import { formatFigure } from '../../parts/format-figure.ts';

type Words = { readonly [K in Kind]?: (view: View, body: Body<K>) => string };

const operationName = (view: View, id: string): string => `${id} ${operationById(view.plan, id)?.name ?? ''}`.trim();

function readingWords(view: View, body: Body<'reading'>): string {
  const characteristic = characteristicById(view.plan, body.characteristic);
  const station = characteristic && stationsOf(view.plan, characteristic).find((s) => s.id === body.station)?.label;
  const where = body.station === 'one' ? '' : ` at ${station ?? body.station}`;
  const figure = formatFigure(body.value, { decimals: characteristic?.decimals ?? 2 });
  const verdict = body.verdict ? `, ${spoken(body.verdict)}` : '';
  return `${characteristic?.name ?? body.characteristic}${where}: ${figure} ${characteristic?.unit ?? ''}${verdict}`;
}

const words: Words = {
  person: (_, b) => `${b.name} admitted, or roles changed`,
  device: (_, b) => `Tablet ${b.name} admitted`,
  instrument: (_, b) => `Instrument ${b.instrument} in the register`,
  reading: readingWords,
  sheet: (v, b) =>
    `Check sheet ${operationName(v, b.operation)}: ${b.answers.length} ${b.answers.length === 1 ? 'answer' : 'answers'}`,
  operation: (v, b) => `${operationName(v, b.operation)} ${b.mark}`,
  round: (v, b) => `Round, ${operationName(v, b.operation)}`,
  note: (_, b) => `Note: ${b.text}`,
  finding: (_, b) => `Finding: ${b.title}`,
  disposition: (_, b) => `Decided: ${b.decision}. ${b.words}`,
  closure: (_, b) => `Finding closed. ${b.words}`,
  strike: (_, b) => `An entry struck: ${b.reason}`,
  release: (_, b) => `${b.hold} signed`,
  refusal: (_, b) => `${b.hold} refused: ${b.reason}`,
  attestation: (_, b) => `Stated for ${b.hold}: ${b.words}`,
  witness: (_, b) => `Witness point ${b.witness}: ${b.act}`,
};

/** What an entry says, in one line. */
export function entryWords(view: View, { entry, kind, body }: Kept): string {
  const tell = kind && (words[kind] as ((v: View, b: unknown) => string) | undefined);
  return tell ? tell(view, body) : entry.kind;
}

/** The latest entries that tell of the work, newest first. */
export function lastEntries(view: View, count: number): Kept[] {
  return view.memo.get(`last/${count}`, () => {
    const last: Kept[] = [];
    for (const kept of view.log.all()) {
      if (kept.kind === null || !words[kept.kind]) continue;
      let at = last.findIndex((l) => later(kept, l));
      if (at < 0) at = last.length;
      if (at < count) last.splice(at, 0, kept);
      last.length = Math.min(last.length, count);
    }
    return last;
  });
}

const later = (a: Kept, b: Kept): boolean =>
  a.entry.clock[0] - b.entry.clock[0] > 0 ||
  (a.entry.clock[0] === b.entry.clock[0] && a.entry.clock[1] > b.entry.clock[1]);

/** By whom, and on which day at what time: "Ines M., day 66, 14:32". */
export const nameOf = (view: View, person: string): string =>
  view.standing.person(person)?.name ?? 'somebody not admitted';
