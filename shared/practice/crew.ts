import type { Role } from '../logbook/kinds.ts';

export const crewKeys = [
  'lead',
  'nightLead',
  'technician',
  'lateTechnician',
  'engineer',
  'quality',
  'customer',
] as const;
/** A member of the practice crew, by the work that they do. */
export type CrewKey = (typeof crewKeys)[number];

export interface CrewMember {
  readonly name: string;
  readonly roles: readonly Role[];
}

/** The crew of the practice casting: invented people. The lead founds the casting; lead and quality keep the roster. */
export const crew: { readonly [K in CrewKey]: CrewMember } = {
  lead: { name: 'Hanna Vik', roles: ['crew-lead', 'keeper'] },
  nightLead: { name: 'Tomas Reed', roles: ['crew-lead'] },
  technician: { name: 'Joel Kast', roles: ['technician'] },
  lateTechnician: { name: 'Priya Noor', roles: ['technician'] },
  engineer: { name: 'Edda Lorn', roles: ['process-engineer'] },
  quality: { name: 'Milo Quist', roles: ['quality', 'keeper'] },
  customer: { name: 'Sana Wells', roles: ['customer'] },
};

/** An invented works. */
export const PRACTICE_CASTING_NAME = 'Practice blank 3.2 m, Quarry Lane works';

/** The two tablets of the practice casting; the first is the one that opens it. */
export const practiceTabletNames = ['Hall tablet', 'Furnace tablet'] as const;
/** Which of the two: 0 is the tablet that opens the casting. */
export type TabletIndex = 0 | 1;
