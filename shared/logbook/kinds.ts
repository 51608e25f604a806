import * as z from 'zod/mini';
import type { LoggerMapping } from '../logger/mapping.ts';
import { designSchema } from '../plan/design.ts';
import type { Plan } from '../plan/schema.ts';
import { hash, publicKey, shortId, time } from './entry.ts';
import { type PlainlyFits, plainlyFits } from './plainly-fits.ts';

/**
 * What the body of each kind of entry holds. A kind changes only by optional keys; a body with keys that this build
 * does not know is read without them, a body that does not fit counts for nothing.
 */

const words = z.string().check(z.minLength(1), z.maxLength(4000));
const id = z.string().check(z.minLength(1), z.maxLength(80));
const nullableNumber = z.nullable(z.number());
const answer = z.enum(['yes', 'no', 'not-applicable']);

export const verdictSchema = z.enum(['within', 'outside', 'not-proven']);
/** How the text came in: on this tablet's keys, from a gauge that types, or typed later from paper. */
export const entryWaySchema = z.enum(['keypad', 'gauge', 'paper']);

export const typedSchema = z.object({ text: z.string().check(z.maxLength(100)), unit: z.string(), value: z.number() });

export const roles = ['technician', 'crew-lead', 'process-engineer', 'quality', 'customer', 'keeper'] as const;
export const roleSchema = z.enum(roles);
export type Role = z.infer<typeof roleSchema>;

export const dispositionSchema = z.enum(['rework', 'repair', 'concession', 'regrade', 'scrap']);
export const severitySchema = z.enum(['minor', 'major', 'critical']);

/** One line of a handover as it was shown, with the entries that it was worked out from. */
export const handoverLineSchema = z.object({
  text: words,
  entries: z.array(hash()),
  /** How many more entries stand behind it than are listed. */
  more: z.optional(z.number()),
  /** What the outgoing lead was asked, where the text is their answer. */
  asked: z.optional(words),
  /** Where more of it stands. */
  operation: z.optional(id),
  hold: z.optional(id),
  finding: z.optional(id),
  /** Where it is seen that there is nothing of the kind. */
  place: z.optional(id),
  /** Kinds of entries of which none came since the handover before. */
  searched: z.optional(z.array(id)),
});

const picture = { hash: hash(), bytes: z.number(), width: z.number(), height: z.number() };

/** A photo as it was kept: a blob of its own that travels apart, named by its SHA-256, and a small one to show first. */
export const photoSchema = z.object({ ...picture, type: z.string(), small: z.object(picture) });

/** Photos of one entry: as many as somebody takes of one thing. */
export const PHOTOS_MAX = 24;
const photos = z.array(photoSchema).check(z.maxLength(PHOTOS_MAX));

/**
 * A plan is checked in full by its schema when it is made and signed; here it is only told from what is no plan, so that
 * the tablet need not carry that schema to read its log.
 */
const isPlan = (value: unknown): boolean =>
  typeof value === 'object' &&
  value !== null &&
  (value as Partial<Plan>).format === 1 &&
  [(value as Partial<Plan>).operations, (value as Partial<Plan>).characteristics, (value as Partial<Plan>).holds].every(
    Array.isArray,
  );

/** Checked in full where a logger file is read; here only told from what is no mapping. */
const isMapping = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && Array.isArray((value as Partial<LoggerMapping>).columns);

export const kinds = {
  /** The first entry of a casting; its body names the casting. */
  genesis: z.object({
    name: words,
    design: designSchema,
    planHash: hash(),
    nonce: z.string(),
    practice: z.boolean(),
    timeZone: z.string(),
    /** Day 1 of the casting, a date. */
    dayOne: z.string().check(z.regex(/^\d{4}-\d\d-\d\d$/)),
    founder: z.object({ person: shortId(), name: words, roles: z.array(roleSchema), key: publicKey() }),
    device: z.object({ name: words, key: publicKey() }),
  }),
  /** A plan revision, whole. Revision 1 has no parents and the hash that the genesis names. */
  plan: z.object({
    plan: z.custom<Plan>(isPlan),
    parents: z.array(hash()),
    /** Why it was made; revision 1 follows from the design. */
    reason: z.optional(words),
  }),
  /** A keeper admits a person, or changes their roles. */
  person: z.object({ person: shortId(), name: words, roles: z.array(roleSchema) }),
  /** A keeper vouches for a person's key on the tablet that made it. */
  key: z.object({ person: shortId(), key: publicKey(), device: shortId() }),
  /** A keeper admits a tablet. */
  device: z.object({ device: shortId(), key: publicKey(), name: words }),
  /** A tablet that no keeper has admitted asks for that, and for people's keys to be vouched for; it decides nothing. */
  request: z.object({
    name: words,
    key: publicKey(),
    people: z.array(z.object({ person: shortId(), key: publicKey(), signature: z.string() })),
    /** By the tablet's key, as of the same request in a file. */
    signature: z.string(),
  }),
  /** A keeper retires a person, a tablet or a key. */
  retirement: z.object({
    person: z.optional(shortId()),
    device: z.optional(shortId()),
    key: z.optional(publicKey()),
    reason: words,
  }),
  /** A keeper adopts one branch of a fork, up to and with the named entry. */
  adoption: z.object({ device: shortId(), hash: hash(), reason: words }),
  /** A line of the instrument register; a later line of the same instrument takes its place. */
  instrument: z.object({
    instrument: id,
    class: id,
    name: words,
    unit: z.string(),
    standardUncertainty: z.number().check(z.gte(0)),
    expansion_per_K: nullableNumber,
    calibratedOn: z.string(),
    calibrationDue: z.string(),
    /** Of its calibration, point by point: what is added to a reading there. */
    corrections: z.optional(z.array(z.object({ at: z.number(), correction: z.number() }))),
    /** A calibration that found it right clears what was read with it since the one before. */
    foundRight: z.optional(z.boolean()),
    words: z.optional(words),
  }),
  /**
   * An instrument was found bad: what was read with it between the two instants, and until a calibration after them, is
   * in question.
   */
  recall: z.object({
    instrument: id,
    /** Its last check that found it right. */
    since: time(),
    foundAt: time(),
    words,
  }),
  /** A measurement at one station, with everything that its reader was shown. */
  reading: z.object({
    operation: id,
    characteristic: id,
    station: id,
    typed: typedSchema,
    /** By name, e.g. `part_temperature_C`: what was typed and its value in that unit. */
    conditions: z.record(z.string(), typedSchema),
    /** What was judged, in the characteristic's unit: at 20 °C where the characteristic says so. */
    value: z.number(),
    limits: z.object({ nominal: nullableNumber, lower: nullableNumber, upper: nullableNumber }),
    standardUncertainty: z.number().check(z.gte(0)),
    guard: z.number().check(z.gte(0)),
    verdict: z.nullable(verdictSchema),
    /** Plan revision and calculation versions that the reader saw. */
    plan: hash(),
    calculations: z.record(z.string(), z.number()),
    instrument: z.nullable(id),
    observer: shortId(),
    way: entryWaySchema,
    replaces: z.optional(hash()),
    words: z.optional(words),
  }),
  /** A filled check sheet, or the part of it that was filled in one go. */
  sheet: z.object({
    operation: id,
    /** Which lot, crate, shift or day, where the operation has a sheet for each. */
    part: z.optional(id),
    answers: z.array(z.object({ item: id, answer, words: z.optional(words) })),
    plan: hash(),
    observer: shortId(),
    way: entryWaySchema,
    replaces: z.optional(z.array(hash())),
  }),
  /** One item of a check sheet, answered at a range of stations in one go. */
  check: z.object({
    operation: id,
    item: id,
    answer,
    stations: z.array(id).check(z.minLength(1)),
    words: z.optional(words),
    plan: hash(),
    observer: shortId(),
    way: entryWaySchema,
  }),
  /** Which core stands at an address, by the serial marked on it. */
  core: z.object({
    operation: id,
    station: id,
    serial: id,
    plan: hash(),
    observer: shortId(),
    way: entryWaySchema,
  }),
  /** Another core takes the place of the one at an address: what was read of that one counts no more. Signed. */
  'core-change': z.object({
    operation: id,
    station: id,
    /** Of the new core. */
    serial: id,
    reason: words,
    /** The finding that asked for it. */
    finding: z.optional(id),
    plan: hash(),
    observer: shortId(),
    way: entryWaySchema,
    name: words,
  }),
  /** Work on an operation begins, or its lead calls it finished. */
  operation: z.object({
    operation: id,
    mark: z.enum(['started', 'finished']),
    words: z.optional(words),
    /** The heat plan that begins with it: heating started at this instant. */
    heat: z.optional(id),
  }),
  /** One walk past the channels at a due time. */
  round: z.object({
    operation: id,
    heatPlan: id,
    extent: z.enum(['full', 'key']),
    dueAt: z.nullable(time()),
    plan: hash(),
    readings: z.array(
      z.object({
        channel: id,
        typed: z.optional(typedSchema),
        value: nullableNumber,
        state: z.enum(['good', 'suspect', 'dead']),
        planned: z.optional(nullableNumber),
        /** For an emf: the reference junction's temperature that it was turned into °C with. */
        junction_C: z.optional(z.number()),
        /** For a dead channel: the one that stands in for it. */
        substitute: z.optional(id),
        /** A sensor put in place of a dead one, under a name of its own. */
        replaces: z.optional(id),
        words: z.optional(words),
      }),
    ),
    observer: shortId(),
    way: entryWaySchema,
    words: z.optional(words),
  }),
  /** A logger's file, taken in: the file is a blob of that SHA-256, its samples can always be read from it again. */
  logger: z.object({
    file: z.object({ hash: hash(), name: z.string().check(z.minLength(1), z.maxLength(255)), bytes: z.number() }),
    mapping: z.custom<LoggerMapping>(isMapping),
    /** What the person was told that is taken, and what is not. */
    rows: z.number(),
    taken: z.number(),
    from: time(),
    to: time(),
    words: z.optional(words),
  }),
  /** Free words, about an operation, an entry or a finding. */
  note: z.object({ operation: z.optional(id), about: z.optional(id), text: words, photos: z.optional(photos) }),
  /** Photos of one thing: what an operation's plan wants, a station, a finding, an item of a check sheet. */
  photo: z.object({
    photos,
    operation: z.optional(id),
    /** The line of the plan's list that they answer, as it stands there. */
    wanted: z.optional(words),
    item: z.optional(id),
    characteristic: z.optional(id),
    station: z.optional(id),
    finding: z.optional(id),
    /** What is to be seen; where there is no photo, why there is nothing to take one of. */
    words: z.optional(words),
  }),
  /** A nonconformance raised by hand. */
  finding: z.object({
    operation: id,
    title: words,
    words: z.optional(words),
    severity: severitySchema,
    /** The hold point that it blocks, or null. */
    blocks: z.nullable(id),
    about: z.optional(z.array(hash())),
    station: z.optional(id),
    characteristic: z.optional(id),
    owner: z.optional(shortId()),
    photos: z.optional(photos),
  }),
  /** What becomes of a finding, derived or by hand. One proposes, another with the authority accepts and signs. */
  disposition: z.object({
    finding: id,
    operation: id,
    decision: dispositionSchema,
    words,
    /** For a concession: its limits and who agreed. */
    limits: z.optional(words),
    agreedBy: z.optional(words),
    /** For a concession: who of the customer agreed, how, on what date, and the letter or note that shows it. */
    customer: z.optional(
      z.object({
        name: words,
        how: z.enum(['letter', 'call', 'present']),
        on: z.string().check(z.regex(/^\d{4}-\d\d-\d\d$/)),
        reference: z.optional(words),
      }),
    ),
    proposedBy: shortId(),
    name: words,
    role: roleSchema,
  }),
  /** Quality has seen the work that a disposition asked for, and closes the finding. */
  closure: z.object({ finding: id, operation: id, words, name: words, role: roleSchema }),
  /** Withdraws an entry, of any tablet, by its hash. */
  strike: z.object({ target: hash(), reason: words, words: z.optional(words) }),
  /** A signature on a hold point. Signed; covers exactly the evidence that it lists. */
  release: z.object({
    hold: id,
    plan: hash(),
    evidence: z.array(hash()),
    evidenceHash: hash(),
    meaning: words,
    name: words,
    role: roleSchema,
  }),
  /** A hold point looked at and not signed. */
  refusal: z.object({ hold: id, plan: hash(), reason: words, name: words, role: roleSchema }),
  /** A statement that a hold point asks for, e.g. that the roster is posted. */
  attestation: z.object({ hold: id, requirement: id, words, plan: hash() }),
  /** A witness point: told, attended, or waived after its notice. */
  witness: z.object({ witness: id, act: z.enum(['told', 'attended', 'waived']), words: z.optional(words) }),
  /** A shift as its lead hands it over: what the log told them then, and what they added. Signed. */
  handover: z.object({
    plan: hash(),
    /** The accepted handover that it goes on from; null for the first. */
    before: z.nullable(hash()),
    items: z.array(
      z.object({
        item: id,
        title: words,
        lines: z.array(handoverLineSchema),
        /** What was asked and not answered. */
        unsaid: z.optional(z.array(words)),
        /** Refusals of this item that it answers. */
        carried: z.optional(z.array(z.object({ answer: hash(), reason: words }))),
      }),
    ),
    /** Moments in which nothing should be handed over, as they were warned of. */
    moments: z.optional(z.array(words)),
    name: words,
    role: roleSchema,
  }),
  /** Items of a handover that two leads have talked through, face to face; several of these add up. */
  talk: z.object({
    handover: hash(),
    /** Who takes over. */
    incoming: shortId(),
    items: z.array(
      z.object({
        item: id,
        question: z.optional(words),
        answer: z.optional(words),
        /** Why the incoming lead will not take it over as it stands. */
        refused: z.optional(words),
      }),
    ),
  }),
  /** The incoming lead's word on a handover: accepted, or refused in the items named. Signed. */
  'handover-answer': z.object({
    handover: hash(),
    /** None: the whole is accepted. */
    refused: z.array(z.object({ item: id, reason: words })),
    /** What the incoming lead looked at alone before answering. */
    check: z.object({
      readings: z.array(
        z.object({
          channel: id,
          typed: typedSchema,
          /** The last figure of the log in the same unit, and its entry: shown only afterwards. */
          last: nullableNumber,
          entry: z.nullable(hash()),
        }),
      ),
      words: z.optional(words),
    }),
    name: words,
    role: roleSchema,
  }),
  /**
   * Something arranged for a time, with an owner and an end. A later line of the same arrangement, written in knowledge
   * of it, takes its place: so it is extended, or given to another owner.
   */
  arrangement: z.object({
    arrangement: shortId(),
    /** The operation that was in work when it was made. */
    operation: id,
    /** What is different from the plan for now. */
    what: words,
    subject: z.object({ kind: z.enum(['channel', 'instrument', 'other']), id: z.optional(id) }),
    owner: shortId(),
    /** When it ends at the latest, and what ends it; one of the two is said. */
    endsAt: z.nullable(time()),
    endsWhen: z.nullable(words),
    reason: words,
  }),
  /** It is as planned again; when is the entry's own time. */
  'arrangement-end': z.object({ arrangement: shortId(), operation: id, words }),
  /** The hall's own emergency numbers; signed by a keeper. A later one, written in knowledge of it, takes its place. */
  hall: z.object({
    site: words,
    numbers: z.array(z.object({ what: words, number: id })),
    assembly: z.optional(words),
    words: z.optional(words),
  }),
} as const;

export type Kind = keyof typeof kinds;
export type Body<K extends Kind> = z.infer<(typeof kinds)[K]>;
export type Verdict = z.infer<typeof verdictSchema>;
export type Photo = z.infer<typeof photoSchema>;
export type EntryWay = z.infer<typeof entryWaySchema>;
export type Typed = z.infer<typeof typedSchema>;
export type Disposition = z.infer<typeof dispositionSchema>;
export type Severity = z.infer<typeof severitySchema>;
export type Answer = z.infer<typeof answer>;

export const isKind = (kind: string): kind is Kind => Object.hasOwn(kinds, kind);

/** Kinds that count only with a good signature of their recorder's vouched key. */
export const signedKinds: ReadonlySet<string> = new Set<Kind>([
  'person',
  'key',
  'device',
  'retirement',
  'adoption',
  'plan',
  'disposition',
  'closure',
  'strike',
  'release',
  'refusal',
  'handover',
  'handover-answer',
  'hall',
  'core-change',
]);

/** The body if this build can read it, else null: the entry is then kept and shown, and counts for nothing. */
export function readBody<K extends Kind>(kind: K, body: unknown): Body<K> | null {
  if (plainlyOf(kind)(body)) return body as Body<K>;
  const parsed = z.safeParse(kinds[kind], body);
  return parsed.success ? (parsed.data as Body<K>) : null;
}

const plainly = new Map<Kind, PlainlyFits>();

function plainlyOf(kind: Kind): PlainlyFits {
  const found = plainly.get(kind);
  if (found) return found;
  const made = plainlyFits(kinds[kind]);
  plainly.set(kind, made);
  return made;
}
