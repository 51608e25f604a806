import type { Plan } from '../schema.ts';

const MONDAY_TO_FRIDAY = [1, 2, 3, 4, 5];

/** Our choice for practice: one shift of 8 h on five days, two shifts of 8 h on six; free days are the site's own. */
export const calendars: NonNullable<Plan['calendars']> = {
  day: { weekdays: MONDAY_TO_FRIDAY, from_h: 7, to_h: 15 },
  two: { weekdays: [...MONDAY_TO_FRIDAY, 6], from_h: 6, to_h: 22 },
  freeDays: [],
};
