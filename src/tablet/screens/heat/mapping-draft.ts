import type { Look } from '../../../../shared/logger/look.ts';
import type { DateOrder, LoggerMapping } from '../../../../shared/logger/mapping.ts';
import { OWN_OFFSET, unitsFor } from '../../../../shared/logger/mapping.ts';
import type { Channel } from '../../../../shared/plan/schema.ts';

/** A mapping while it is being said. */
export interface MappingDraft {
  /** The names of the file's columns: a later file with the same ones is read the same way. */
  readonly columnsOf: string;
  readonly decimalMark: '.' | ',';
  readonly order: DateOrder | '';
  readonly zone: string;
  /** By column: the channel and its unit. */
  readonly channels: Readonly<Record<number, { readonly channel: string; readonly unit: string }>>;
}

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
                [column, { channel: known.id, unit: unit && unitsFor(known.unit).includes(unit) ? unit : known.unit }],
              ];
            }),
          ),
  };
}

/** The mapping, or what must be said first. */
export function readMapping(look: Look, draft: MappingDraft): { mapping: LoggerMapping } | { ask: string } {
  if (draft.zone === '') return { ask: "Say which clock the logger's times are of." };
  if (draft.order === '') return { ask: 'Say in which order day and month stand.' };
  const columns = look.columns.flatMap(({ column, name }) => {
    const said = draft.channels[column];
    return said ? [{ column, name, ...said }] : [];
  });
  if (columns.length === 0) return { ask: 'Give at least one column to a channel.' };
  const twice = columns.find((c, i) => columns.findIndex((d) => d.channel === c.channel) !== i);
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
    },
  };
}

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
