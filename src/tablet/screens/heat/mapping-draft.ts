import type { Look } from '../../../../shared/logger/look.ts';
import type { DateOrder, LoggerMapping } from '../../../../shared/logger/mapping.ts';
import {
  DEGREES,
  EMF,
  type Emf,
  OWN_OFFSET,
  thermocoupleLetters,
  unitsFor,
} from '../../../../shared/logger/mapping.ts';
import type { Channel } from '../../../../shared/plan/schema.ts';
import { readFigure } from '../../shared-screens/fields/read-figure.ts';

/** A mapping while it is being said. */
export interface MappingDraft {
  /** The names of the file's columns: a later file with the same ones is read the same way. */
  readonly columnsOf: string;
  readonly decimalMark: '.' | ',';
  readonly order: DateOrder | '';
  readonly zone: string;
  /** By column: the channel and its unit. */
  readonly channels: Readonly<Record<number, ColumnDraft>>;
}

/** What is said of a column. */
export interface ColumnDraft {
  readonly channel: string;
  readonly unit: string;
  /** Of an emf: the type of the thermocouple. */
  readonly type?: string;
  /** Of an emf: `fixed`, or the column in which the reference junction is read. */
  readonly junction?: string;
  /** The unit of the junction's column, where neither a channel nor the column's name tells it. */
  readonly junctionUnit?: string;
  /** Where the junction is fixed, °C as typed. */
  readonly fixed?: string;
}

/** A junction that stands at one temperature. */
export const FIXED = 'fixed';

export const noMapping: MappingDraft = { columnsOf: '', decimalMark: '.', order: '', zone: '', channels: {} };

const namesOf = (look: Look): string =>
  `${look.timeColumn}|${look.delimiter}|${look.columns.map((c) => c.name).join('|')}`;

/** What the first look proposes; what was said of the last file with the same columns comes before. */
export function proposed(look: Look, last: MappingDraft, channels: readonly Channel[]): MappingDraft {
  const columnsOf = namesOf(look);
  const said = last.columnsOf === columnsOf ? last : noMapping;
  return {
    columnsOf,
    decimalMark: look.decimalMark,
    // What was said of another file holds only as far as this file allows it.
    order: look.order ?? (look.orders.some((o) => o === said.order) ? said.order : ''),
    zone: look.zone ?? said.zone,
    channels:
      said === last
        ? said.channels
        : Object.fromEntries(
            look.columns.flatMap(({ column, channel, unit }) => {
              const known = channels.find((c) => c.id === channel);
              if (!known) return [];
              return [
                [
                  column,
                  {
                    channel: known.id,
                    unit: unit && unitsFor(known.unit).includes(unit) ? unit : known.unit,
                    ...(letterOf(known) ? { type: letterOf(known)! } : {}),
                  },
                ],
              ];
            }),
          ),
  };
}

/** The mapping, or what must be said first. */
export function readMapping(look: Look, draft: MappingDraft): { mapping: LoggerMapping } | { ask: string } {
  if (draft.zone === '') return { ask: "Say which clock the logger's times are of." };
  if (draft.order === '') return { ask: 'Say in which order day and month stand.' };
  const columns: LoggerMapping['columns'] = [];
  const emfColumns: NonNullable<LoggerMapping['emfColumns']> = [];
  for (const { column, name } of look.columns) {
    const said = draft.channels[column];
    if (!said) continue;
    const { channel, unit } = said;
    if (unit !== EMF) columns.push({ column, name, channel, unit });
    else {
      const emf = readEmf(said, look, draft, name || `column ${column + 1}`);
      if ('ask' in emf) return emf;
      emfColumns.push({ column, name, channel, emf });
    }
  }
  const given = [...columns, ...emfColumns];
  if (given.length === 0) return { ask: 'Give at least one column to a channel.' };
  const twice = given.find((c, i) => given.findIndex((d) => d.channel === c.channel) !== i);
  if (twice) return { ask: `Two columns are given to channel ${twice.channel}.` };
  return {
    mapping: {
      encoding: look.encoding,
      delimiter: look.delimiter,
      decimalMark: draft.decimalMark,
      headerLine: look.headerLine,
      time: {
        column: look.timeColumn,
        ...(look.clockColumn === null ? {} : { clockColumn: look.clockColumn }),
        order: draft.order,
        zone: draft.zone,
      },
      columns,
      ...(emfColumns.length > 0 ? { emfColumns } : {}),
    },
  };
}

/** How an emf becomes a temperature, or what must be said first. */
function readEmf(said: ColumnDraft, look: Look, draft: MappingDraft, name: string): Emf | { ask: string } {
  const { type, junction, fixed = '0' } = said;
  const letter = thermocoupleLetters.find((t) => t === type);
  if (!letter) return { ask: `Say which type of thermocouple ${name} is.` };
  if (!junction) return { ask: `Say where the reference junction of ${name} stands.` };
  if (junction !== FIXED) {
    const unit = junctionUnit(junction, look, draft) ?? said.junctionUnit;
    if (!unit) return { ask: `Say in which unit the reference junction of ${name} is read.` };
    if (!DEGREES.includes(unit)) return { ask: `The reference junction of ${name} must be read in degrees.` };
    return { type: letter, junction: { column: Number(junction), unit } };
  }
  const read = readFigure(fixed);
  return 'error' in read
    ? { ask: `Reference junction of ${name}: ${read.error}` }
    : { type: letter, junction: { celsius: read.value } };
}

/** The unit in which a column gives a junction, as its channel or its own name tells it; null where neither does. */
export const junctionUnit = (junction: string, look: Look, draft: MappingDraft): string | null =>
  draft.channels[Number(junction)]?.unit ?? look.columns.find((c) => c.column === Number(junction))?.unit ?? null;

/** The letter of a channel's thermocouple, where the plan says it. */
export const letterOf = (channel: Channel | undefined): string | undefined =>
  thermocoupleLetters.find((t) => t === channel?.type);

/** How a zone is said. */
export const zoneWords = (zone: string, hall: string): string => {
  if (zone === OWN_OFFSET) return 'each time tells its own offset';
  return zone === hall ? `the clock of the hall, ${hall}` : zone;
};

export const orderWords: Readonly<Record<DateOrder, string>> = {
  ymd: 'year, month, day',
  dmy: 'day, month, year',
  mdy: 'month, day, year',
  'unix-s': 'seconds since 1970',
  'unix-ms': 'milliseconds since 1970',
};

export const delimiterWords: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
};
