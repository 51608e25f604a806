import { characteristicById, operationById } from '../../../plan/lookup.ts';
import type { Operation } from '../../../plan/schema.ts';
import type { Body, Kind } from '../../kinds.ts';
import type { Kept } from '../../log.ts';
import { dateIn } from '../../time-words.ts';
import { type Arrangement, arrangementById, arrangementStatus, openArrangements } from '../arrangements.ts';
import { agreementWords } from '../concession.ts';
import { missingEntries } from '../conditions.ts';
import { doubtWords, whatIs } from '../doubt-words.ts';
import { type Finding, findings, spoken, stationLabel } from '../findings.ts';
import { holdState } from '../holds.ts';
import { instruments } from '../instruments.ts';
import { measureStates } from '../measures.ts';
import { nextStep, openWork, stepWords } from '../next-step.ts';
import { byTime, isReplaced, stationStates, verdictOf } from '../readings.ts';
import { workOn } from '../sequence.ts';
import { isStruck } from '../strikes.ts';
import type { View } from '../view.ts';
import {
  atMost,
  count,
  freshOf,
  type HandoverLine,
  line,
  nameOf,
  type Preparing,
  sentence,
  sinceWords,
  when,
} from './preparing.ts';

const LINES = 6;
const FEW = 4;
const NOTES = 3;
const NOTE_LENGTH = 160;
/** A calibration that ends within so many days is told. */
const SOON_DAYS = 14;
const DAY_MS = 86_400_000;
const LATE_MS = 4 * 3_600_000;

const counted: readonly (readonly [Kind, string, string?])[] = [
  ['round', 'round'],
  ['reading', 'reading'],
  ['sheet', 'check sheet'],
  ['note', 'note'],
  ['finding', 'finding'],
  ['instrument', 'line of the register', 'lines of the register'],
];

/** What was recorded since the last handover: how much of it, and each act that changed how things stand. */
export function changeLines(p: Preparing): HandoverLine[] {
  const words = counted.flatMap(([kind, one, many]) => {
    const n = freshOf(p, kind).length;
    return n === 0 ? [] : [count(n, one, many)];
  });
  const kinds = new Set<string | null>(counted.map(([kind]) => kind));
  const recorded = p.fresh.filter((k) => kinds.has(k.kind)).toReversed();
  return [
    line(
      words.length === 0 ? `Nothing was recorded ${sinceWords(p)}.` : `Recorded ${sinceWords(p)}: ${words.join(', ')}.`,
      recorded,
      recorded.length === 0 ? { searched: counted.map(([kind]) => kind) } : {},
    ),
    ...lateLines(p),
    ...atMost(
      FEW,
      freshOf(p, 'strike')
        .toReversed()
        .map((s) => strikeLine(p, s)),
    ),
    ...atMost(
      FEW,
      freshOf(p, 'operation')
        .toReversed()
        .map((o) => markLine(p, o)),
    ),
    ...atMost(
      NOTES,
      freshOf(p, 'note')
        .toReversed()
        .map((n) => noteLine(p, n)),
    ),
    ...rosterLines(p),
  ];
}

/** What was observed long before it was written, or came only now from another tablet. */
function lateLines(p: Preparing): HandoverLine[] {
  const { since_ms } = p;
  const late = p.fresh.filter(({ kind, entry }) => {
    if (kind !== 'reading' && kind !== 'round' && kind !== 'sheet') return false;
    const observed = Date.parse(entry.observedAt);
    return Date.parse(entry.recordedAt) - observed > LATE_MS || (since_ms !== null && observed < since_ms);
  });
  const from = since_ms === null ? '' : 'observed before the last handover, or ';
  return late.length === 0 ? [] : [line(`Of these ${late.length} came late: ${from}written over 4 h after.`, late)];
}

function strikeLine(p: Preparing, strike: Kept<'strike'>): HandoverLine {
  const { target, reason, words } = strike.body;
  const struck = p.view.log.get(target);
  const what = struck ? whatIs(p.view, struck) : 'an entry that is not here yet';
  return line(
    sentence(
      `Struck by ${nameOf(p.view, strike.entry.by)}, ${when(p, strike.entry.recordedAt)}: ${what}: ${reason}${words ? `. ${words}` : ''}`,
    ),
    [strike.hash, target],
  );
}

function markLine(p: Preparing, mark: Kept<'operation'>): HandoverLine {
  const { operation, mark: which, words } = mark.body;
  const name = operationById(p.view.plan, operation)?.name ?? '';
  return line(
    sentence(`${operation} ${name} ${which} ${when(p, mark.entry.observedAt)}${words ? `: ${words}` : ''}`),
    [mark],
    { operation },
  );
}

function noteLine(p: Preparing, note: Kept<'note'>): HandoverLine {
  const { text, operation } = note.body;
  const said = text.length > NOTE_LENGTH ? `${text.slice(0, NOTE_LENGTH)} …` : text;
  return line(`Note by ${nameOf(p.view, note.entry.by)}${operation ? ` on ${operation}` : ''}: ${sentence(said)}`, [
    note,
  ]);
}

function rosterLines(p: Preparing): HandoverLine[] {
  const lines = p.fresh.filter((k) => k.kind === 'person' || k.kind === 'device' || k.kind === 'retirement');
  const plans = freshOf(p, 'plan');
  return [
    ...(lines.length === 0 ? [] : [line(`Roster: ${count(lines.length, 'change')}.`, lines)]),
    ...plans.map((plan) =>
      line(sentence(`Plan revision ${plan.body.plan.revision}${plan.body.reason ? `: ${plan.body.reason}` : ''}`), [
        plan,
      ]),
    ),
  ];
}

const gravity: readonly Finding['severity'][] = ['critical', 'major', 'minor'];

/** Findings that are not settled, the gravest first, and what was decided since. */
export function findingLines(p: Preparing): HandoverLine[] {
  const open = findings(p.view)
    .filter((f) => f.state === 'open' || f.state === 'in work')
    .sort((a, b) => gravity.indexOf(a.severity) - gravity.indexOf(b.severity));
  const said = open.map((f) =>
    line(`${f.severity}, ${f.state}: ${f.title}${f.blocks ? `, blocks ${f.blocks}` : ''}.`, f.causes, {
      finding: f.id,
    }),
  );
  const decided = [
    ...freshOf(p, 'disposition').map((d) =>
      line(`Decided by ${d.body.name}: ${d.body.decision}, ${sentence(d.body.words)}${agreedWords(d)}`, [d]),
    ),
    ...freshOf(p, 'closure').map((c) => line(`Closed by ${c.body.name}: ${sentence(c.body.words)}`, [c])),
  ];
  return [
    ...(open.length === 0
      ? [line('No finding is open.', [], { place: 'findings' })]
      : atMost(LINES + 1, said, { place: 'findings' })),
    ...atMost(LINES, decided),
  ];
}

function agreedWords({ body: { customer } }: Kept<'disposition'>): string {
  return customer ? ` Agreed by ${agreementWords(customer)}.` : '';
}

/** Hold points in doubt, the next one with what it lacks, and what was signed or refused since. */
export function holdLines(p: Preparing): HandoverLine[] {
  const states = p.view.plan.holds.map((h) => holdState(p.view, h));
  const doubted = states
    .filter((s) => s.status === 'in-doubt')
    .map((s) => {
      const { doubts } = s;
      const first = doubts[0] ? ` ${doubtWords(p.view, doubts[0])}.` : '';
      return line(
        `${s.hold.id} ${s.hold.name} is in doubt.${first}`,
        doubts.map((d) => d.entry.hash),
        { hold: s.hold.id },
      );
    });
  const next = states.find((s) => s.status === 'open' || s.status === 'ready');
  const waits = next ? [nextHoldLine(next)] : [];
  const signed = [
    ...freshOf(p, 'release').map((r) =>
      line(`${r.body.hold} signed by ${r.body.name}, ${when(p, r.entry.recordedAt)}.`, [r], { hold: r.body.hold }),
    ),
    ...freshOf(p, 'refusal').map((r) =>
      line(`${r.body.hold} refused by ${r.body.name}: ${sentence(r.body.reason)}`, [r], { hold: r.body.hold }),
    ),
  ];
  return [
    ...doubted,
    ...waits,
    ...(signed.length === 0
      ? [line(`Nothing signed or refused ${sinceWords(p)}.`, [], { searched: ['release', 'refusal'] })]
      : atMost(LINES, signed)),
  ];
}

function nextHoldLine({ hold, status, conditions, missing, evidence }: ReturnType<typeof holdState>): HandoverLine {
  const lacks = missing
    .slice(0, 2)
    .map((c) => c.title)
    .join('; ');
  const rest = missing.length > 2 ? ` and ${missing.length - 2} more` : '';
  const words = `${hold.id} ${hold.name}: ${status === 'ready' ? 'ready to sign' : 'open'}, ${conditions.length - missing.length} of ${conditions.length} conditions met.`;
  return line(lacks ? `${words} Missing: ${lacks}${rest}.` : words, evidence, { hold: hold.id });
}

/** Readings since the last handover that are not within, and stand. */
export function readingLines(p: Preparing): HandoverLine[] {
  const bad = freshOf(p, 'reading').filter((r) => {
    const verdict = verdictOf(p.view, r);
    return (verdict === 'outside' || verdict === 'not-proven') && !isReplaced(p.view, r);
  });
  return atMost(
    LINES,
    bad.toReversed().map((r) => badReadingLine(p, r)),
  );
}

function badReadingLine({ view }: Preparing, reading: Kept<'reading'>): HandoverLine {
  const { characteristic, station, value, operation } = reading.body;
  const planned = characteristicById(view.plan, characteristic);
  const where = station === 'one' ? '' : ` at ${stationLabel(view, characteristic, station)}`;
  return line(
    `${planned?.name ?? characteristic}${where}: ${value.toFixed(planned?.decimals ?? 2)} ${planned?.unit ?? ''}, ${spoken(verdictOf(view, reading))}.`,
    [reading],
    { operation },
  );
}

/** Temporary arrangements that stand, with who ends them and when, and those ended since. */
export function temporaryLines(p: Preparing): HandoverLine[] {
  const open = openArrangements(p.view);
  const ended = freshOf(p, 'arrangement-end').map((e) => {
    const what = arrangementById(p.view, e.body.arrangement)?.line.body.what ?? 'an arrangement that is not here yet';
    return line(sentence(`Ended: ${what}. ${e.body.words}`), [e]);
  });
  const standing =
    open.length === 0
      ? [line('No temporary arrangement is open.', [], { place: 'arrangements' })]
      : open.map((a) => openLine(p, a));
  return [...atMost(LINES, standing, { place: 'arrangements' }), ...atMost(FEW, ended, { place: 'arrangements' })];
}

function openLine(p: Preparing, arrangement: Arrangement): HandoverLine {
  const { what, endsAt, endsWhen, owner } = arrangement.line.body;
  const status = arrangementStatus(arrangement, p.now_ms);
  const past = status === 'overdue' ? 'past its end: ' : status === 'due' ? 'ends soon: ' : '';
  const until = [...(endsAt === null ? [] : [`until ${when(p, endsAt)}`]), ...(endsWhen ? [`until ${endsWhen}`] : [])];
  return line(sentence(`${past}${what}, ${until.join(' or ')}; owner ${nameOf(p.view, owner)}`), arrangement.lines);
}

/** Instruments whose calibration has ended or ends soon. */
export function instrumentLines({ view, now_ms }: Preparing): HandoverLine[] {
  const all = instruments(view);
  if (all.length === 0) return [line('No instrument is on the register.', [], { place: 'instruments' })];
  const today = dateIn(new Date(now_ms), view.genesis.timeZone);
  const soon = dateIn(new Date(now_ms + SOON_DAYS * DAY_MS), view.genesis.timeZone);
  const told = all
    .filter((i) => i.line.calibrationDue <= soon)
    .map(({ id, line: { name, calibrationDue }, lines }) =>
      line(`${id} ${name}: calibration ${calibrationDue < today ? 'ended' : 'ends'} ${calibrationDue}.`, [
        lines.at(-1)!.hash,
      ]),
    );
  if (told.length > 0) return atMost(LINES, told);
  const next = all.toSorted((a, b) => (a.line.calibrationDue < b.line.calibrationDue ? -1 : 1))[0]!;
  return [
    line(`All ${all.length} instruments are in calibration; ${next.id} ends first, ${next.line.calibrationDue}.`, [
      next.lines.at(-1)!.hash,
    ]),
  ];
}

/** How far this tablet has each admitted tablet's chain, and what is known of and not here. */
export function tabletLines(p: Preparing): HandoverLine[] {
  const { log, standing } = p.view;
  const known = missingEntries(p.view);
  return standing
    .tablets()
    .filter((t) => !t.retired)
    .map(({ device, name }) => {
      const head = log.head(device);
      const missing = known.get(device) ?? 0;
      const last = head ? `, the last ${when(p, log.get(head[1])!.entry.recordedAt)}` : '';
      const more = missing > 0 ? ` ${count(missing, 'entry', 'entries')} more known of and not here.` : '';
      return line(
        `${name}: ${count(head?.[0] ?? 0, 'entry', 'entries')} here${last}.${more}`,
        head ? [head[1]] : [],
        head ? {} : { place: 'tablets' },
      );
    });
}

/** Who recorded or observed something since the last handover. */
export function peopleLines(p: Preparing): HandoverLine[] {
  const by = new Map<string, Kept[]>();
  for (const kept of p.fresh) {
    const { observer } = kept.body as Partial<Body<'reading'>>;
    for (const who of new Set([kept.entry.by, ...(observer ? [observer] : [])]))
      by.set(who, [...(by.get(who) ?? []), kept]);
  }
  if (by.size === 0) return [];
  const most = [...by].sort(([, a], [, b]) => b.length - a.length);
  return [
    line(
      `At work ${sinceWords(p)}: ${most.map(([who, done]) => `${nameOf(p.view, who)} (${done.length})`).join(', ')}.`,
      most.flatMap(([, done]) => done.at(-1)!.hash),
    ),
  ];
}

/** Surveys that are half done, with the station that was read last. */
export function halfDoneLines({ view }: Preparing): HandoverLine[] {
  const all = openWork(view)
    .filter((s) => s.progress === 'under-way')
    .flatMap(({ operation }) =>
      measureStates(view, operation)
        .filter((m) => m.done > 0 && !m.enough && !m.workedOut)
        .map((m) => halfDoneLine(view, operation.id, m)),
    );
  return atMost(LINES, all, { place: 'sequence' });
}

function halfDoneLine(
  view: View,
  operation: string,
  { characteristic, done, needed }: ReturnType<typeof measureStates>[number],
): HandoverLine {
  const last = [...stationStates(view, operation, characteristic.id).values()]
    .flatMap((s) => s.current)
    .sort(byTime)
    .at(-1);
  const at =
    last && last.body.station !== 'one' ? `, last at ${stationLabel(view, characteristic.id, last.body.station)}` : '';
  return line(
    `Half done in ${operation}: ${characteristic.name}, ${done} of ${needed ?? 'some'} stations${at}.`,
    last ? [last] : [],
    { operation },
  );
}

/** What can be worked on, each with its next step, and the cautions of it all. */
export function nextLines({ view }: Preparing): HandoverLine[] {
  const work = openWork(view);
  if (work.length === 0)
    return [
      line('No operation can be begun: a hold point stands before the next, or the plan is done.', [], {
        place: 'sequence',
      }),
    ];
  const steps = work.map((state) => {
    const { operation, progress } = state;
    const last = workOn(view, operation.id).sort(byTime).at(-1);
    return line(
      `${operation.id} ${operation.name}, ${progress === 'ready' ? 'ready' : 'under way'}: ${sentence(stepWords(nextStep(view, state)))}`,
      last ? [last] : [],
      { operation: operation.id },
    );
  });
  return [
    ...atMost(LINES, steps, { place: 'sequence' }),
    ...cautionLines(
      view,
      work.slice(0, LINES).map((s) => s.operation),
    ),
  ];
}

/** The cautions of the work that is next; they come from the plan, and stand on each operation's page. */
function cautionLines(view: View, operations: readonly Operation[]): HandoverLine[] {
  const cautioned = operations.filter((o) => o.cautions.length > 0);
  const names = [...new Set(cautioned.flatMap((o) => o.cautions))].flatMap(
    (id) => view.plan.cautions.find((c) => c.id === id)?.name.toLowerCase() ?? [],
  );
  if (names.length === 0) return [];
  return [
    line(
      `Cautions: ${names.join(', ')}. ${view.plan.cautionClosing}`,
      [],
      cautioned.length === 1 ? { operation: cautioned[0]!.id } : { place: 'sequence', operation: cautioned[0]!.id },
    ),
  ];
}

/** Entries that were struck are told by their strikes. */
export const stands = (view: View, kept: Kept): boolean => view.standing.counts(kept) && !isStruck(view, kept);
