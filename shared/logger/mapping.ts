import * as z from 'zod/mini';

/** How the bytes of a logger file are text. */
export const encodings = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'] as const;
export const delimiters = [',', ';', '\t', '|'] as const;
/** In which order a date's numbers stand, or what a plain number counts from 1970-01-01. */
export const dateOrders = ['ymd', 'dmy', 'mdy', 'unix-s', 'unix-ms'] as const;
/** The zone of times that tell their own offset. */
export const OWN_OFFSET = 'own offset';

/** Types of thermocouples, IEC 60584-1. */
export const thermocoupleLetters = ['B', 'E', 'J', 'K', 'N', 'R', 'S', 'T'] as const;

/** How an emf becomes a temperature: the type, and where its reference junction stands or is read. */
const emfSchema = z.object({
  type: z.enum(thermocoupleLetters),
  junction: z.union([
    z.object({ celsius: z.number() }),
    z.object({ column: z.number().check(z.gte(0)), unit: z.string().check(z.minLength(1)) }),
  ]),
});

const given = {
  column: z.number().check(z.gte(0)),
  /** As the file calls it. */
  name: z.string(),
  channel: z.string().check(z.minLength(1), z.maxLength(80)),
};

/** What a column of a logger file is: enough to read the file the same way again for ever. Columns count from 0. */
export const loggerMappingSchema = z.object({
  encoding: z.enum(encodings),
  delimiter: z.enum(delimiters),
  decimalMark: z.enum(['.', ',']),
  /** The line with the columns' names, counted from 1; 0 where there is none. Rows begin behind it. */
  headerLine: z.number().check(z.gte(0)),
  time: z.object({
    column: z.number().check(z.gte(0)),
    /** The time of day, where it stands in a column of its own. */
    clockColumn: z.optional(z.number().check(z.gte(0))),
    order: z.enum(dateOrders),
    /** `own offset`, `UTC`, or a zone of the IANA data base. */
    zone: z.string().check(z.minLength(1)),
  }),
  columns: z.array(z.object({ ...given, unit: z.string().check(z.minLength(1)) })),
  /** Apart from the others: a version that does not know them leaves them out, and takes no mV for degrees. */
  emfColumns: z.optional(z.array(z.object({ ...given, emf: emfSchema }))),
});

export type LoggerMapping = z.infer<typeof loggerMappingSchema>;
export type Emf = z.infer<typeof emfSchema>;
export type Encoding = (typeof encodings)[number];
export type Delimiter = (typeof delimiters)[number];
export type DateOrder = (typeof dateOrders)[number];

/** The unit of an emf, which wants to know its thermocouple. */
export const EMF = 'mV';

/** Units of a temperature. */
export const DEGREES: readonly string[] = ['°C', '°F', 'K'];

/** Units in which a file may give what a channel reads in `unit`. */
export const unitsFor = (unit: string): readonly string[] => (unit === '°C' ? [...DEGREES, EMF] : [unit]);

/** A value of a file in the channel's own unit. */
export function inChannelUnit(value: number, unit: string): number {
  if (unit === '°F') return (value - 32) / 1.8;
  return unit === 'K' ? value - 273.15 : value;
}
