import type { LoggerMapping } from './mapping.ts';

/** A column that a channel is read from: in a unit, or as the emf of a thermocouple. */
export type ReadColumn = LoggerMapping['columns'][number] | NonNullable<LoggerMapping['emfColumns']>[number];

/** All columns that a mapping reads channels from. */
export const readColumns = ({ columns, emfColumns = [] }: LoggerMapping): readonly ReadColumn[] => [
  ...columns,
  ...emfColumns,
];
