import type { Body, Kind } from '../../../../shared/logbook/kinds.ts';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { arrangementById } from '../../../../shared/logbook/state/arrangements.ts';
import { agreementWords, concessionLacks } from '../../../../shared/logbook/state/concession.ts';
import { findingById, stationLabel } from '../../../../shared/logbook/state/findings.ts';
import { planHashOf, type View } from '../../../../shared/logbook/state/view.ts';
import { readColumns } from '../../../../shared/logger/read-columns.ts';
import { addressWords } from '../../../../shared/plan/core-stations.ts';
import { characteristicById, operationById } from '../../../../shared/plan/lookup.ts';
import { roleName } from '../../app/words.ts';
import { knowledgeWords } from '../../shared-screens/knowledge-words.ts';
import { planOf } from '../../shared-screens/plan-of.ts';
import {
  entryLink,
  type Fact,
  type Facts,
  fact,
  hold,
  moment,
  operation,
  person,
  planRevision,
  tablet,
  told,
  typedHow,
} from './facts.ts';
import { plain, readingFacts } from './reading-facts.ts';
import { roundFacts } from './round-facts.ts';

/** All that an entry says, in words; nothing where this version cannot read it. */
export function factsOf(view: View, kept: Kept): Facts {
  if (kept.kind === null) return { facts: [] };
  if (kept.kind === 'reading') return readingFacts(view, kept as unknown as Kept<'reading'>);
  const say = sayings[kept.kind] as (view: View, body: never) => Facts | Fact[];
  const said = say(view, kept.body as never);
  return Array.isArray(said) ? { facts: [...said, ...factsOfEntry(view, kept)] } : said;
}

/** What an entry tells together with when and after what it was written. */
function factsOfEntry(view: View, kept: Kept): Fact[] {
  if (kept.kind === 'release') return signedFrom(view, kept);
  if (kept.kind === 'disposition') return concessionFacts(kept as unknown as Kept<'disposition'>);
  return [];
}

function concessionFacts({ body, entry }: Kept<'disposition'>): Fact[] {
  const why = body.decision === 'concession' ? concessionLacks(body, entry.recordedAt) : null;
  return told(fact('does not count', why));
}

const signedFrom = (view: View, kept: Kept): Fact[] =>
  told(fact('made', knowledgeWords(view, kept as unknown as Kept<'release'>)));

type Sayings = { readonly [K in Exclude<Kind, 'reading'>]: (view: View, body: Body<K>) => Facts | Fact[] };

const sayings: Sayings = {
  genesis: (_, b) =>
    told(
      fact('casting', b.name),
      fact('day 1', b.dayOne),
      fact('time zone', b.timeZone),
      fact('practice', b.practice ? 'yes: nothing of it is real' : null),
      fact('begun by', b.founder.name),
      fact('roles', roleNames(b.founder.roles)),
      fact('tablet', b.device.name),
      fact('blank diameter', `${b.design.blank_diameter_mm} mm`),
      fact('plan, by its hash', b.planHash),
    ),
  plan: (view, b) =>
    told(
      fact('revision', b.plan.revision),
      fact('title', b.plan.title),
      fact('reason', b.reason),
      fact('operations', b.plan.operations.length),
      fact('characteristics', b.plan.characteristics.length),
      fact('hold points', b.plan.holds.length),
      ...b.parents.map((p) => fact('after revision', view.plans.get(p)?.revision ?? p.slice(0, 12), `/plan/${p}`)),
      fact('to be read', 'the figures of this revision', `/plan/${planHashOf(b.plan)}`),
    ),
  person: (_, b) => told(fact('person', b.name), fact('roles', roleNames(b.roles))),
  key: (view, b) => told(fact('of', person(view, b.person)), fact('made on', tablet(view, b.device))),
  device: (_, b) => told(fact('tablet', b.name)),
  request: (view, b) =>
    told(fact('tablet', b.name), fact('keys made on it by', b.people.map((p) => person(view, p.person)).join(', '))),
  retirement: (view, b) =>
    told(
      fact('person', person(view, b.person)),
      fact('tablet', b.device && tablet(view, b.device)),
      fact('key', b.key && `${b.key.slice(0, 12)} …`),
      fact('reason', b.reason),
    ),
  adoption: (view, b) =>
    told(
      fact('branch of', tablet(view, b.device)),
      entryLink(view, 'up to and with', b.hash),
      fact('reason', b.reason),
    ),
  instrument: (view, b) =>
    told(
      fact('number', b.instrument),
      fact('kind', view.plan.instrumentClasses.find((c) => c.id === b.class)?.name ?? b.class),
      fact('name', b.name),
      fact('standard uncertainty', `${plain(b.standardUncertainty)} ${b.unit}`),
      fact('expansion', b.expansion_per_K === null ? null : `${plain(b.expansion_per_K * 1e6)} ×10⁻⁶/K`),
      fact('calibrated on', b.calibratedOn),
      fact('next one due', b.calibrationDue),
      fact('corrections', b.corrections?.map((c) => `${plain(c.correction)} at ${plain(c.at)}`).join(', ')),
      fact('found', b.foundRight === undefined ? null : b.foundRight ? 'right' : 'not right'),
      fact('words', b.words),
    ),
  recall: (view, b) =>
    told(
      fact('number', b.instrument),
      fact('found right last', moment(view, b.since)),
      fact('found bad', moment(view, b.foundAt)),
      fact('words', b.words),
    ),
  sheet: sheetFacts,
  operation: (view, b) =>
    told(
      operation(view.plan, b.operation),
      fact('mark', b.mark),
      fact('heat begun', b.heat && `${b.heat} ${view.plan.heatPlans.find((h) => h.id === b.heat)?.name ?? ''}`),
      fact('words', b.words),
    ),
  check: (view, b) =>
    told(
      operation(planOf(view, b.plan), b.operation),
      fact(
        'item',
        planOf(view, b.plan)
          .operations.find((o) => o.id === b.operation)
          ?.checks.find((c) => c.id === b.item)?.text ?? b.item,
      ),
      fact('answer', ANSWERS[b.answer] ?? b.answer),
      fact('stations', `${b.stations.length}: ${addressWords(b.stations)}`),
      fact('words', b.words),
      fact('observer', person(view, b.observer)),
      typedHow(b.way),
      planRevision(view, b.plan),
    ),
  core: (view, b) =>
    told(
      operation(planOf(view, b.plan), b.operation),
      fact('address', b.station),
      fact('serial', b.serial),
      fact('observer', person(view, b.observer)),
      typedHow(b.way),
      planRevision(view, b.plan),
    ),
  'core-change': (view, b) =>
    told(
      operation(planOf(view, b.plan), b.operation),
      fact('address', b.station),
      fact('serial of the new core', b.serial),
      fact('reason', b.reason),
      fact(
        'finding',
        b.finding && (findingById(view, b.finding)?.title ?? 'no longer stands'),
        b.finding && `/findings/${b.finding}`,
      ),
      fact('changed by', b.name),
      fact('observer', person(view, b.observer)),
      typedHow(b.way),
      planRevision(view, b.plan),
    ),
  round: roundFacts,
  logger: (view, b) =>
    told(
      fact('file', `${b.file.name}, ${b.file.bytes} bytes`),
      fact('its SHA-256', b.file.hash),
      fact(
        'channels',
        readColumns(b.mapping)
          .map((c) => c.channel)
          .join(', '),
      ),
      fact('rows', `${b.taken} taken of ${b.rows}`),
      fact('from', moment(view, b.from)),
      fact('to', moment(view, b.to)),
      fact('clock of the logger', b.mapping.time.zone),
      fact('words', b.words),
    ),
  note: (view, b) => told(operation(view.plan, b.operation), aboutFact(view, b.about), fact('text', b.text)),
  photo: (view, b) =>
    told(
      fact('photos', b.photos.length),
      operation(view.plan, b.operation),
      fact('the plan wants', b.wanted),
      fact(
        'item',
        b.item && (operationById(view.plan, b.operation ?? '')?.checks.find((c) => c.id === b.item)?.text ?? b.item),
      ),
      fact('measured', b.characteristic && (characteristicById(view.plan, b.characteristic)?.name ?? b.characteristic)),
      fact('station', b.station && (b.characteristic ? stationLabel(view, b.characteristic, b.station) : b.station)),
      aboutFact(view, b.finding),
      fact('words', b.words),
      ...b.photos.map((p, i) => fact(`photo ${i + 1}, by its hash`, p.hash)),
    ),
  finding: (view, b) =>
    told(
      operation(view.plan, b.operation),
      fact('finding', b.title),
      fact('words', b.words),
      fact('severity', b.severity),
      hold(view.plan, b.blocks, 'blocks'),
      fact('measured', b.characteristic && (characteristicById(view.plan, b.characteristic)?.name ?? b.characteristic)),
      fact('station', b.station && (b.characteristic ? stationLabel(view, b.characteristic, b.station) : b.station)),
      fact('owner', person(view, b.owner)),
      ...(b.about ?? []).map((hash) => entryLink(view, 'about', hash)),
    ),
  disposition: (view, b) =>
    told(
      ...findingFacts(view, b),
      fact('decision', b.decision),
      fact('words', b.words),
      fact('limits of the concession', b.limits),
      fact('agreed by', b.customer ? agreementWords(b.customer) : b.agreedBy),
      fact('proposed by', person(view, b.proposedBy)),
      fact('accepted by', `${b.name}, ${roleName(b.role)}`),
    ),
  closure: (view, b) =>
    told(...findingFacts(view, b), fact('what was seen', b.words), fact('closed by', `${b.name}, ${roleName(b.role)}`)),
  strike: (view, b) => told(entryLink(view, 'struck', b.target), fact('reason', b.reason), fact('words', b.words)),
  release: (view, b) =>
    told(
      hold(planOf(view, b.plan), b.hold),
      fact('signed by', b.name),
      fact('role', roleName(b.role)),
      fact('what it means', b.meaning),
      fact('evidence', `${b.evidence.length} entries seen, ${here(view, b.evidence)} of them on this tablet`),
      fact('root of the evidence', b.evidenceHash),
      planRevision(view, b.plan),
    ),
  refusal: (view, b) =>
    told(
      hold(planOf(view, b.plan), b.hold),
      fact('refused by', b.name),
      fact('role', roleName(b.role)),
      fact('reason', b.reason),
      planRevision(view, b.plan),
    ),
  attestation: (view, b) =>
    told(
      hold(planOf(view, b.plan), b.hold),
      fact('what is asked', askedWords(view, b)),
      fact('what was stated', b.words),
      planRevision(view, b.plan),
    ),
  witness: (view, b) =>
    told(
      fact('witness point', `${b.witness} ${view.plan.witnesses.find((w) => w.id === b.witness)?.name ?? ''}`),
      fact('what happened', b.act),
      fact('words', b.words),
    ),
  handover: handoverFacts,
  talk: (view, b) => ({
    facts: told(entryLink(view, 'handover', b.handover), fact('takes over', person(view, b.incoming))),
    list: {
      title: 'Talked through',
      lines: b.items.map(({ item, question, answer, refused }) => ({
        text: itemTitle(view, b.handover, item),
        ...(question || refused
          ? { note: [question, answer, refused && `refused: ${refused}`].filter(Boolean).join(' ') }
          : {}),
        value: refused ? 'refused' : 'talked through',
      })),
    },
  }),
  'handover-answer': (view, b) => ({
    facts: told(
      entryLink(view, 'handover', b.handover),
      fact('answer', b.refused.length === 0 ? 'accepted' : `refused in ${b.refused.length} of its items`),
      ...b.refused.map((r) => fact(`refused, ${itemTitle(view, b.handover, r.item)}`, r.reason)),
      fact('by', b.name),
      fact('role', roleName(b.role)),
      fact('looked at alone', b.check.words),
    ),
    ...(b.check.readings.length === 0
      ? {}
      : {
          list: {
            title: 'Read alone',
            lines: b.check.readings.map(({ channel, typed, last }) => ({
              text: channel,
              note: last === null ? 'not in the log before' : `the log had ${plain(last)} ${typed.unit}`,
              value: `${typed.text} ${typed.unit}`,
            })),
          },
        }),
  }),
  arrangement: (view, b) =>
    told(
      fact('what', b.what, `/arrangements/${b.arrangement}`),
      fact(b.subject.kind === 'other' ? 'about' : b.subject.kind, b.subject.id),
      operation(view.plan, b.operation),
      fact('owner', person(view, b.owner)),
      fact('ends at the latest', b.endsAt && moment(view, b.endsAt)),
      fact('ends when', b.endsWhen),
      fact('reason', b.reason),
    ),
  'arrangement-end': (view, b) =>
    told(
      fact('arrangement', arrangementById(view, b.arrangement)?.line.body.what, `/arrangements/${b.arrangement}`),
      operation(view.plan, b.operation),
      fact('words', b.words),
    ),
  hall: (_, b) => ({
    facts: told(fact('site', b.site), fact('assembly point', b.assembly), fact('words', b.words)),
    list: { title: 'Numbers', lines: b.numbers.map(({ what, number }) => ({ text: what, value: number })) },
  }),
};

const roleNames = (roles: readonly string[]): string => roles.map(roleName).join(', ') || 'none';
const here = (view: View, hashes: readonly string[]): number => hashes.filter((h) => view.log.get(h)).length;
const ANSWERS: Readonly<Record<string, string>> = { 'not-applicable': 'not applicable' };

function sheetFacts(view: View, b: Body<'sheet'>): Facts {
  const plan = planOf(view, b.plan);
  const checks = plan.operations.find((o) => o.id === b.operation)?.checks ?? [];
  return {
    facts: told(
      operation(plan, b.operation),
      fact('part', b.part),
      fact('observer', person(view, b.observer)),
      typedHow(b.way),
      planRevision(view, b.plan),
      ...(b.replaces ?? []).map((hash) => entryLink(view, 'in place of', hash)),
    ),
    list: {
      title: 'Answers',
      lines: b.answers.map(({ item, answer, words }) => ({
        text: checks.find((c) => c.id === item)?.text ?? item,
        value: ANSWERS[answer] ?? answer,
        ...(words ? { note: words } : {}),
      })),
    },
  };
}

function handoverFacts(view: View, b: Body<'handover'>): Facts {
  return {
    facts: told(
      fact('prepared by', b.name),
      fact('role', roleName(b.role)),
      b.before === null ? fact('goes on from', 'the start of the casting') : entryLink(view, 'goes on from', b.before),
      fact('warned of', b.moments?.join(', ')),
      planRevision(view, b.plan),
    ),
    list: {
      title: 'Items',
      lines: b.items.flatMap(({ title, lines, unsaid = [], carried = [] }) => [
        ...carried.map(({ reason }) => ({ text: title, note: `carried over, refused before: ${reason}`, value: '' })),
        ...lines.map(({ text, asked, entries, more = 0 }) => ({
          text: title,
          note: asked ? `${asked}: ${text}` : text,
          value: entries.length + more > 0 ? `${entries.length + more} entries` : '',
        })),
        ...unsaid.map((asked) => ({ text: title, note: asked, value: 'nothing said' })),
      ]),
    },
  };
}

const itemTitle = (view: View, handover: string, item: string): string =>
  (view.log.get(handover) as Kept<'handover'> | undefined)?.body.items?.find((i) => i.item === item)?.title ?? item;

function findingFacts(view: View, b: { finding: string; operation: string }): (Fact | null)[] {
  const finding = findingById(view, b.finding);
  return [
    fact('finding', finding?.title ?? 'no longer stands', finding ? `/findings/${b.finding}` : undefined),
    operation(view.plan, b.operation),
  ];
}

const askedWords = (view: View, b: Body<'attestation'>): string => {
  const need = planOf(view, b.plan)
    .holds.find((h) => h.id === b.hold)
    ?.requirements.find((r) => r.kind === 'statement' && r.id === b.requirement);
  return need?.kind === 'statement' ? need.words : b.requirement;
};

/** A note is about a round of a heat, a finding, or another entry. */
function aboutFact(view: View, about: string | undefined): Fact | null {
  if (about === undefined) return null;
  const [, heat, number] = /^round\/(.+)\/(\d+)$/.exec(about) ?? [];
  if (heat !== undefined) return fact('about', `round ${number} of heat ${heat}`, '/furnace');
  const finding = findingById(view, about);
  if (finding) return fact('about', finding.title, `/findings/${about}`);
  return view.log.get(about) ? entryLink(view, 'about', about) : fact('about', about);
}
