/** Said with every alarm. */
export const ALARM_ADVICE =
  'The tablet only advises, from what was written: the furnace’s own alarms and the local rules decide.';
