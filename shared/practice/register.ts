import type { Body } from '../logbook/kinds.ts';
import type { Plan } from '../plan/schema.ts';
import { DAY_MS, type Timetable } from './timetable.ts';

/** What the crew's own instrument has where its class gives no single figure, or a worse one for soft surfaces. */
const ownUncertainty: Readonly<Record<string, number>> = { RA: 0.12, CA: 0.03, TP: 0.25, TG: 0.05, BS: 0.05 };
const classes = [
  'DI',
  'FL',
  'OL',
  'TM',
  'CA',
  'TP',
  'TG',
  'BS',
  'LC',
  'RA',
  'ST',
  'MM',
  'IM',
  'VR',
  'IN',
  'VM',
  'PS',
  'LS',
];
/** The one that is due for calibration soon, and how many days after the last entry. */
const DUE_SOON = { class: 'CA', days: 6 };
const DAYS_A_MONTH = 365.25 / 12;

/** The instrument register: one of each class that the work so far needs, calibrated in the months before day 1. */
export function register(plan: Plan, time: Timetable, lastMoment: number): Map<string, Body<'instrument'>> {
  return new Map(
    classes.map((id, index) => {
      const planned = plan.instrumentClasses.find((c) => c.id === id);
      if (!planned) throw new Error(`The plan has no instrument class ${id}`);
      const interval_ms = (planned.interval_months ?? 12) * DAYS_A_MONTH * DAY_MS;
      const usual = time.onDay(1, 12) - (12 + 5 * index) * DAY_MS;
      const calibrated = id === DUE_SOON.class ? lastMoment + DUE_SOON.days * DAY_MS - interval_ms : usual;
      return [
        id,
        {
          instrument: `${id}-1`,
          class: id,
          name: planned.name,
          unit: planned.unit,
          standardUncertainty: ownUncertainty[id] ?? planned.standardUncertainty ?? 0,
          expansion_per_K: planned.expansion_per_K,
          calibratedOn: time.date(calibrated),
          calibrationDue: time.date(calibrated + interval_ms),
        },
      ];
    }),
  );
}
