import { characteristicById } from '../../plan/lookup.ts';
import type { Body } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { spoken, stationLabel } from './findings.ts';
import { keptVerdict } from './readings.ts';
import type { Doubt } from './signatures.ts';
import type { View } from './view.ts';

/** Why, in words: which entry, which tablet, by whom. */
export function doubtWords(view: View, doubt: Doubt): string {
  const { entry } = doubt;
  const what = `${whatIs(view, entry)} ${writtenBy(view, entry)}`;
  switch (doubt.reason) {
    case 'came-later':
      return `Not seen when it was signed: ${what}`;
    case 'struck':
      return `Struck ${writtenBy(view, doubt.strike)}, not seen when it was signed: ${what}`;
    case 'judged-again':
      return `Judged otherwise since it was signed: ${what}, now ${spoken(keptVerdict(view, (entry as unknown as Kept<'reading'>).body))}`;
    case 'instrument-bad':
      return `Read with ${(entry.body as Body<'reading'>).instrument}, found bad since it was signed: ${what}`;
    case 'core-changed':
      return `Core ${(entry.body as Body<'core-change'>).station} was changed since it was signed, and what was read of the one before counts no more: ${what}`;
    case 'lost-standing':
      return `No longer counts: ${what}`;
    case 'refused':
      return `Refused ${writtenBy(view, entry)}: ${(entry as unknown as Kept<'refusal'>).body.reason}`;
    case 'not-here':
      return `Signed ${writtenBy(view, entry)} on evidence of which ${doubt.count === 1 ? '1 entry is' : `${doubt.count} entries are`} not here`;
    case 'root-differs':
      return `The signature ${writtenBy(view, entry)} names another root than that of the evidence that it lists`;
    case 'not-carried':
      return `Signed ${writtenBy(view, entry)} on evidence that does not carry it: ${doubt.lacks.join('; ')}`;
  }
}

function writtenBy(view: View, { entry }: Kept): string {
  const who = view.standing.person(entry.by)?.name ?? 'somebody not admitted';
  const tablet = view.standing.tablets().find((t) => t.device === entry.device)?.name ?? 'a tablet not admitted';
  return `by ${who}, on ${tablet}`;
}

/** What an entry is, in a few words: of which characteristic, station or operation. */
export function whatIs(view: View, kept: Kept): string {
  const body = kept.body as { characteristic?: string; station?: string; operation?: string };
  if (body.characteristic !== undefined && body.station !== undefined) {
    const name = characteristicById(view.plan, body.characteristic)?.name ?? body.characteristic;
    const place = body.station === 'one' ? '' : ` at ${stationLabel(view, body.characteristic, body.station)}`;
    return `${kept.entry.kind} of ${name}${place}`;
  }
  return body.operation ? `${kept.entry.kind} of operation ${body.operation}` : kept.entry.kind;
}
