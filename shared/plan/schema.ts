import * as z from 'zod/mini';
import { designSchema } from './design.ts';

export type { Design } from './design.ts';

/**
 * What a casting plan is. A plan is data under revision control: it stands whole in the log, is named by the
 * SHA-256 of its canonical JSON, and changes only by addition of optional keys.
 */

const text = z.string().check(z.minLength(1));
const id = z.string().check(z.minLength(1));
const nullableNumber = z.nullable(z.number());

/** A figure that comes from a calculation: enough to run it again and show its working. */
export const derivationSchema = z.object({
  calculation: id,
  input: z.record(z.string(), z.unknown()),
  output: id,
  /** The figure is output · factor + addend, then rounded to the decimals of its characteristic. */
  factor: z.optional(z.number()),
  addend: z.optional(z.number()),
  /** The key of the input that takes the station's distance from the axis, in mm. */
  stationInput: z.optional(id),
});

/** A figure that follows from the design, with its derivation or, where no calculation has it, its rule in words. */
export const derivedFigureSchema = z.object({
  id,
  name: text,
  value: z.number(),
  unit: z.string(),
  decimals: z.number(),
  derivation: z.optional(derivationSchema),
  words: z.optional(text),
});

/** A limit or nominal: a number, or a number by station, with where it comes from. */
export const limitsSchema = z.object({
  /** The operations that these limits hold for; left out: all of the characteristic's. */
  operations: z.optional(z.array(id)),
  nominal: nullableNumber,
  lower: nullableNumber,
  upper: nullableNumber,
  /** Nominal and limits differ by station: added to the three numbers above, by station id. */
  offsetByStation: z.optional(z.record(z.string(), z.number())),
  /** Of the nominal; of the one limit where there is no nominal. */
  derivation: z.optional(derivationSchema),
  lowerDerivation: z.optional(derivationSchema),
  upperDerivation: z.optional(derivationSchema),
  /** The most that the greatest reading of all stations may lie above the least, besides the limit of each. */
  range: z.optional(z.number()),
  /** Within, but worth a warning: at or below, at or above. */
  warnLower: z.optional(z.number()),
  warnUpper: z.optional(z.number()),
  /** What the numbers do not say, e.g. `total`, `change`, `each`. */
  remark: z.optional(text),
});

export const stationSchema = z.object({
  id,
  /** As read out and printed, e.g. `105° at 380 mm`. */
  label: text,
  angle_deg: z.optional(z.number()),
  height_mm: z.optional(z.number()),
  x_mm: z.optional(z.number()),
  y_mm: z.optional(z.number()),
});

export const characteristicSchema = z.object({
  id,
  name: text,
  operations: z.array(id),
  unit: z.string(),
  /** `measured` at stations; `derived` from other readings; `count` and `grade` without uncertainty; `recorded` without limits. */
  kind: z.enum(['measured', 'derived', 'count', 'grade', 'recorded']),
  /** A station set, or null for a single value. */
  stations: z.nullable(id),
  /** Places read at every station of the set: the id of a reading's station is then `station@place`. */
  places: z.optional(z.array(z.object({ id, label: text }))),
  /** No set: one station for each of these, named as they come, e.g. `lot`, `block`, `crack`. */
  each: z.optional(text),
  limits: z.array(limitsSchema),
  /** Standard uncertainty of one reading, instrument and method together, in the unit; null where it has none. */
  uncertainty: nullableNumber,
  /** Where the number stands for something that varies, e.g. `5 % of the reading, here at the limit`. */
  uncertaintyRemark: z.optional(text),
  /** How it is found where no instrument class is used, e.g. `by eye`, `certificate`. */
  method: z.optional(text),
  /** Instrument classes that may take it. */
  instruments: z.array(id),
  decimals: z.number(),
  sampling: z.object({
    all: z.boolean(),
    count: z.optional(z.number()),
    /** Operations in which all are read although others take a sample. */
    allIn: z.optional(z.array(id)),
    words: text,
    /** Read again and again at each station, as something moves: each reading stands beside those before it. */
    repeated: z.optional(z.boolean()),
  }),
  /** A length that is brought to 20 °C before it is judged, with the part's expansion. */
  at20: z.optional(z.object({ part_expansion_per_K: z.number(), u_part_expansion_per_K: z.number() })),
  /** For `derived`: the calculation and the characteristic that its readings come from. */
  derivedFrom: z.optional(z.object({ calculation: z.nullable(id), characteristics: z.array(id), words: text })),
  source: text,
});

export const operationSchema = z.object({
  id,
  name: text,
  stage: id,
  purpose: text,
  after: z.array(
    z.object({
      id,
      type: z.enum(['FS', 'SS', 'FF', 'SF']),
      lag_h: z.number(),
      /** What goes wrong, or what cannot be done, when it is not waited for. */
      why: z.optional(text),
    }),
  ),
  hours: z.number(),
  calendar: z.enum(['day', 'two', 'clock']),
  cautions: z.array(id),
  /** The check sheet's items in order, the common ones first. */
  checks: z.array(
    z.object({
      id,
      text,
      /** A station set: the item may also be answered station by station. */
      stations: z.optional(id),
      /** A characteristic: readings wherever it is asked for in this operation fill the item. */
      reads: z.optional(id),
    }),
  ),
  /** How often the sheet is filled: once, or a sheet for each of these. */
  sheetPer: z.enum(['operation', 'lot', 'crate', 'shift', 'hour', 'day', 'cell']),
  measures: z.array(id),
  photos: z.array(text),
  heatPlan: z.nullable(id),
  rounds: z.nullable(text),
  wrong: text,
  usualDisposition: text,
});

const requirementSchema = z.discriminatedUnion('kind', [
  /** The check sheets of an operation complete and nothing answered no without a disposition. */
  z.object({ kind: z.literal('sheet'), operation: id }),
  /** Every required station of a characteristic within, or under an accepted disposition. */
  z.object({ kind: z.literal('characteristic'), characteristic: id, operation: id, words: z.optional(text) }),
  /** Rounds of a heat: at least `share` of those due, and none missed in the named segments. */
  z.object({
    kind: z.literal('rounds'),
    heatPlan: id,
    operation: id,
    share: z.number(),
    /** Segments in which no round may be missed, counted from 1 as they are said and printed. */
    noneMissedIn: z.array(z.number()),
    /** No round missed in the last hours before the hold point. */
    noneMissedLast_h: z.optional(z.number()),
    /** The longest time without a round that was kept. */
    greatestGap_h: z.optional(z.number()),
    words: text,
  }),
  /** Something seen and stated, e.g. a photo mosaic or a roster; met by an attestation. */
  z.object({ kind: z.literal('statement'), id, words: text }),
  /** Photos of one line of an operation's list: at least so many. */
  z.object({ kind: z.literal('photos'), operation: id, photo: text, least: z.number() }),
  /** A witness point that was attended, or waived when its notice had run out. */
  z.object({ kind: z.literal('witness'), witness: id }),
  /** Holds that must be released and not in doubt. */
  z.object({ kind: z.literal('holds'), holds: z.array(id) }),
]);

export const holdSchema = z.object({
  id,
  name: text,
  after: id,
  before: z.array(id),
  /** Operations that must be finished; the tool adds all their predecessors. */
  operations: z.array(id),
  requirements: z.array(requirementSchema),
  roles: z.array(id),
  /** What the signature means beyond the common meaning. */
  meaning: text,
  usuallyMissed: text,
  /** For holds that heat will not wait for: the longest wait and the safe course. */
  hotRule: z.optional(text),
});

export const witnessSchema = z.object({
  id,
  name: text,
  operations: z.array(id),
  toldAhead: text,
  /** Elapsed hours: 5 working days are a week. */
  notice_h: z.number(),
  /** A second notice, shortly before. */
  secondNotice_h: z.optional(z.number()),
  mayAttend: text,
  ifAbsent: text,
});

export const segmentSchema = z.object({
  to_C: z.number(),
  rate_K_h: z.optional(z.number()),
  soak_h: z.optional(z.number()),
  band_K: z.number(),
  spread_K: z.number(),
  rounds: z.array(
    z.object({
      extent: z.enum(['full', 'key']),
      every_h: z.number(),
      /** Only while one of these runs. */
      operations: z.optional(z.array(id)),
      remark: z.optional(text),
    }),
  ),
  remark: z.optional(text),
});

export const heatPlanSchema = z.object({
  id,
  name: text,
  operations: z.array(id),
  start_C: z.number(),
  /** Groups of channels: their mean is held to the plan, their spread to the segment's. */
  control: z.array(text),
  segments: z.array(segmentSchema),
});

export const channelSchema = z.object({
  id,
  type: text,
  unit: text,
  where: text,
  group: id,
  /** The channel that it is compared with first. */
  pair: z.optional(id),
  /** Further channels that it is compared with. */
  across: z.optional(z.array(id)),
  angle_deg: z.optional(z.number()),
  radius_mm: z.optional(z.number()),
  key: z.boolean(),
});

export const instrumentClassSchema = z.object({
  id,
  name: text,
  resolution: text,
  uncertainty: text,
  /** Standard uncertainty as a number where one holds for the class, in `unit`. */
  standardUncertainty: nullableNumber,
  unit: z.string(),
  interval: text,
  interval_months: nullableNumber,
  expansion_per_K: nullableNumber,
  remark: z.string(),
});

/** What of the log an alarm is worked out from, with its thresholds. */
const watchSchema = z.discriminatedUnion('on', [
  /** Control mean or spread outside: red from this round in a row on. */
  z.object({ on: z.literal('band'), redFrom: z.number() }),
  /** The control mean moves faster than so many times the plan. */
  z.object({ on: z.literal('rate'), window_h: z.number(), times: z.number() }),
  /** A channel cools faster than the limit of the range that it is in; fitted once its readings span `least_h`. */
  z.object({
    on: z.literal('cooling'),
    groups: z.array(id),
    window_h: z.number(),
    least_h: z.number(),
    /** From hot to cold; the last one has no end. */
    ranges: z.array(z.object({ from_C: z.number(), to_C: z.optional(z.number()), most_K_h: z.number() })),
  }),
  /** A reference junction moves further in the window, or is hotter. */
  z.object({
    on: z.literal('junction'),
    groups: z.array(id),
    window_h: z.number(),
    move_K: z.number(),
    most_C: z.number(),
  }),
  /** The rate of spin is outside the limits of a characteristic in an operation while a channel is hotter. */
  z.object({
    on: z.literal('spin'),
    rateGroup: id,
    characteristic: id,
    operation: id,
    groups: z.array(id),
    above_C: z.number(),
  }),
  /** Power differs from its own mean over the window, while the control mean stayed within `move_K`. */
  z.object({
    on: z.literal('power'),
    groups: z.array(id),
    window_h: z.number(),
    least_h: z.number(),
    share: z.number(),
    least_kW: z.number(),
    move_K: z.number(),
  }),
  /** A channel stands higher than it did before in a segment. */
  z.object({ on: z.literal('rise'), groups: z.array(id), segment: z.number(), move_K: z.number() }),
  /** A level falls again after it had settled. */
  z.object({
    on: z.literal('level'),
    characteristic: id,
    settled_mm: z.number(),
    window_h: z.number(),
    most_mm_h: z.number(),
  }),
]);

/** An alarm of the plan. Old plans have its text alone: nothing is worked out from those. */
export const alarmSchema = z.object({
  id,
  text,
  severity: z.optional(z.enum(['minor', 'major', 'critical'])),
  /** The role that answers it. */
  owner: z.optional(id),
  /** Whom to call, in words. */
  call: z.optional(text),
  /** The hold point that it blocks until somebody decides. */
  blocks: z.optional(id),
  /** The heat plans that it watches; left out: all. */
  heatPlans: z.optional(z.array(id)),
  watch: z.optional(watchSchema),
  /** Where the thresholds come from. */
  source: z.optional(text),
});

const shiftsSchema = z.object({
  /** 0 for Sunday to 6 for Saturday. */
  weekdays: z.array(z.number()),
  /** Hours from midnight, as the clocks of the hall show them. */
  from_h: z.number(),
  to_h: z.number(),
});

export const planSchema = z.object({
  format: z.literal(1),
  revision: text,
  title: text,
  design: designSchema,
  derived: z.array(derivedFigureSchema),
  doubts: z.array(text),
  roles: z.array(z.object({ id, name: text, mayRecord: text, maySign: text, mayNot: text })),
  independenceRules: z.array(text),
  cautions: z.array(z.object({ id, name: text, text })),
  cautionClosing: text,
  stages: z.array(z.object({ id, name: text })),
  operations: z.array(operationSchema),
  /** When the shifts of each calendar run, and the dates on which nobody works but round the clock. */
  calendars: z.optional(
    z.object({
      day: shiftsSchema,
      two: shiftsSchema,
      freeDays: z.array(z.string().check(z.regex(/^\d{4}-\d\d-\d\d$/))),
    }),
  ),
  stationSets: z.record(z.string(), z.array(stationSchema)),
  /** Sets of pairs, not written out: each two stations of a set that lie this far apart, once; ids joined by `-`. */
  pairSets: z.optional(z.record(z.string(), z.object({ of: id, apart_mm: z.number() }))),
  characteristics: z.array(characteristicSchema),
  /** How a sample is drawn and when it grows to all. */
  samplingRule: z.optional(text),
  instrumentClasses: z.array(instrumentClassSchema),
  instrumentRules: z.array(text),
  holds: z.array(holdSchema),
  holdCommon: z.array(text),
  signatureMeaning: text,
  witnesses: z.array(witnessSchema),
  heatPlans: z.array(heatPlanSchema),
  roundRule: text,
  channels: z.array(channelSchema),
  alarms: z.array(alarmSchema),
  findingKinds: z.array(
    z.object({
      stage: text,
      name: text,
      severity: z.enum(['minor', 'major', 'critical']),
      blocks: z.nullable(text),
      usualDisposition: text,
    }),
  ),
  severities: z.array(z.object({ id: z.enum(['minor', 'major', 'critical']), meaning: text })),
  strikeReasons: z.array(text),
  notStrikeReasons: z.array(text),
  deadChannelReasons: z.array(text),
  channelStates: z.array(text),
  handover: z.object({
    always: z.array(text),
    byStage: z.array(z.object({ stages: text, items: z.array(text) })),
    notDuring: z.array(text),
    /** How the tool tells that one of those moments is now. */
    moments: z.optional(
      z.array(
        z.object({
          words: text,
          /** While one of these is under way. */
          operations: z.optional(z.array(id)),
          /** While an operation is under way in which some stations of this are read and some are not. */
          measuring: z.optional(id),
          /** In the hours before this segment of a heat begins, and from then until the operation is begun. */
          ahead: z.optional(z.object({ operation: id, heatPlan: id, segment: z.number(), hours: z.number() })),
        }),
      ),
    ),
  }),
  reminders: z.array(text),
});

export type Plan = z.infer<typeof planSchema>;
export type Operation = z.infer<typeof operationSchema>;
export type Characteristic = z.infer<typeof characteristicSchema>;
export type Limits = z.infer<typeof limitsSchema>;
export type Station = z.infer<typeof stationSchema>;
export type Hold = z.infer<typeof holdSchema>;
export type Requirement = z.infer<typeof requirementSchema>;
export type Witness = z.infer<typeof witnessSchema>;
export type HeatPlan = z.infer<typeof heatPlanSchema>;
export type Channel = z.infer<typeof channelSchema>;
export type Alarm = z.infer<typeof alarmSchema>;
export type AlarmWatch = z.infer<typeof watchSchema>;
export type InstrumentClass = z.infer<typeof instrumentClassSchema>;
export type DerivedFigure = z.infer<typeof derivedFigureSchema>;
export type Derivation = z.infer<typeof derivationSchema>;
