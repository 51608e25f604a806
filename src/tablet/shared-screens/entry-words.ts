import { faultWords } from '../../../shared/logbook/faults.ts';
import type { Body } from '../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../shared/logbook/log.ts';
import { agreementWords } from '../../../shared/logbook/state/concession.ts';
import { spoken } from '../../../shared/logbook/state/findings.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { readColumns } from '../../../shared/logger/read-columns.ts';
import { addressWords } from '../../../shared/plan/core-stations.ts';
import { characteristicById, operationById, stationsOf } from '../../../shared/plan/lookup.ts';

const kindNames: Readonly<Record<string, string>> = {
  genesis: 'casting begun',
  plan: 'plan revision',
  person: 'person admitted',
  key: 'key vouched for',
  device: 'tablet admitted',
  request: 'tablet asks to be admitted',
  retirement: 'retired',
  adoption: 'branch adopted',
  instrument: 'instrument',
  recall: 'instrument found bad',
  reading: 'reading',
  sheet: 'check sheet',
  check: 'check at stations',
  core: 'core',
  'core-change': 'core changed',
  operation: 'operation',
  round: 'round',
  logger: 'logger file',
  note: 'note',
  photo: 'photo',
  finding: 'finding',
  disposition: 'disposition',
  closure: 'finding closed',
  strike: 'strike',
  release: 'signature',
  refusal: 'refusal',
  attestation: 'statement',
  witness: 'witness point',
  handover: 'handover',
  talk: 'handover talked through',
  'handover-answer': 'handover answered',
  arrangement: 'temporary arrangement',
  'arrangement-end': 'temporary arrangement ended',
  hall: "the hall's numbers",
};

export const kindName = (kind: string): string => kindNames[kind] ?? `unknown kind "${kind}"`;
export const allKindNames = Object.entries(kindNames);

/** What an entry says, in one line. */
export function entryWords(view: View, kept: Kept): string {
  if (kept.kind === null) return 'this version cannot read it';
  const say = sayings[kept.kind] as (view: View, body: never) => string;
  return say(view, kept.body as never);
}

const named = (view: View, person: string): string => view.standing.person(person)?.name ?? 'somebody not admitted';
const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

const sayings: { readonly [K in keyof typeof kindNames]: (view: View, body: never) => string } = {
  genesis: (_, b: Body<'genesis'>) => `${b.name}, by ${b.founder.name} on ${b.device.name}`,
  plan: (_, b: Body<'plan'>) => `revision ${b.plan.revision}, ${b.reason ?? b.plan.title}`,
  person: (_, b: Body<'person'>) => `${b.name}: ${b.roles.join(', ') || 'no role'}`,
  key: (view, b: Body<'key'>) => `of ${named(view, b.person)}`,
  device: (_, b: Body<'device'>) => b.name,
  request: (_, b: Body<'request'>) => b.name,
  retirement: (_, b: Body<'retirement'>) => b.reason,
  adoption: (_, b: Body<'adoption'>) => b.reason,
  recall: (_, b: Body<'recall'>) => `${b.instrument} found bad: ${b.words}`,
  instrument: (_, b: Body<'instrument'>) => `${b.instrument}, ${b.name}, calibrated until ${b.calibrationDue}`,
  reading: readingWords,
  sheet: (_, b: Body<'sheet'>) => `operation ${b.operation}, ${count(b.answers.length, 'answer')}`,
  check: (view, b: Body<'check'>) =>
    `${operationById(view.plan, b.operation)?.checks.find((c) => c.id === b.item)?.text ?? b.item}: ${b.answer} at ${addressWords(b.stations)}`,
  core: (_, b: Body<'core'>) => `${b.station}, serial ${b.serial}`,
  'core-change': (_, b: Body<'core-change'>) => `${b.station}, now serial ${b.serial}: ${b.reason}`,
  operation: (view, b: Body<'operation'>) =>
    `${b.operation} ${operationById(view.plan, b.operation)?.name ?? ''} ${b.mark}`,
  round: (_, b: Body<'round'>) => `heat ${b.heatPlan}, ${count(b.readings.length, 'channel')}`,
  logger: (_, b: Body<'logger'>) =>
    `${b.file.name}, ${count(readColumns(b.mapping).length, 'channel')}, ${b.taken} of ${count(b.rows, 'row')}`,
  note: (_, b: Body<'note'>) => b.text,
  photo: (_, b: Body<'photo'>) =>
    [b.photos.length === 0 ? 'none taken' : count(b.photos.length, 'photo'), b.wanted, b.words]
      .filter(Boolean)
      .join(', '),
  finding: (_, b: Body<'finding'>) => `${b.title} (${b.severity})`,
  disposition: (_, b: Body<'disposition'>) =>
    `${b.decision}: ${b.words}${b.customer ? ` Agreed by ${agreementWords(b.customer)}.` : ''}`,
  closure: (_, b: Body<'closure'>) => b.words,
  strike: (view, b: Body<'strike'>) => `${struckWords(view, b.target)}: ${b.reason}${b.words ? `, ${b.words}` : ''}`,
  release: (_, b: Body<'release'>) => `${b.hold} by ${b.name}, ${count(b.evidence.length, 'entry', 'entries')} seen`,
  refusal: (_, b: Body<'refusal'>) => `${b.hold} refused by ${b.name}: ${b.reason}`,
  attestation: (_, b: Body<'attestation'>) => `${b.hold}: ${b.words}`,
  witness: (_, b: Body<'witness'>) => `${b.witness} ${b.act}${b.words ? `, ${b.words}` : ''}`,
  handover: (_, b: Body<'handover'>) => `prepared by ${b.name}, ${count(b.items.length, 'item')}`,
  talk: (view, b: Body<'talk'>) => `with ${named(view, b.incoming)}, ${count(b.items.length, 'item')}`,
  'handover-answer': (_, b: Body<'handover-answer'>) =>
    b.refused.length === 0
      ? `accepted by ${b.name}`
      : `${count(b.refused.length, 'item')} refused by ${b.name}: ${b.refused.map((r) => r.reason).join('; ')}`,
  arrangement: (view, b: Body<'arrangement'>) => `${b.what}; owner ${named(view, b.owner)}`,
  'arrangement-end': (_, b: Body<'arrangement-end'>) => b.words,
  hall: (_, b: Body<'hall'>) => `${b.site}, ${count(b.numbers.length, 'number')}`,
};

function readingWords(view: View, b: Body<'reading'>): string {
  const characteristic = characteristicById(view.plan, b.characteristic);
  const station = characteristic && stationsOf(view.plan, characteristic).find((s) => s.id === b.station);
  const where = b.station === 'one' ? '' : ` at ${station?.label ?? b.station}`;
  const judged = b.verdict ? `, ${spoken(b.verdict)}` : '';
  return `${characteristic?.name ?? b.characteristic}${where}: ${b.value.toFixed(characteristic?.decimals ?? 2)} ${characteristic?.unit ?? ''}${judged}`;
}

function struckWords(view: View, target: string): string {
  const kept = view.log.get(target);
  return kept ? `${kindName(kept.entry.kind)} of ${named(view, kept.entry.by)}` : 'an entry that is not here yet';
}

/** Why an entry counts for nothing, in words; null when it counts. */
export function faultOf(view: View, kept: Kept): string | null {
  const fault = view.standing.faultOf(kept);
  return fault === null ? null : faultWords[fault];
}
