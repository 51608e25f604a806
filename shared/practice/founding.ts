import type { Body } from '../logbook/kinds.ts';
import type { Design, Plan } from '../plan/schema.ts';
import { type CrewKey, crew, crewKeys, PRACTICE_CASTING_NAME, practiceTabletNames } from './crew.ts';
import type { PracticeEvent } from './events.ts';
import { DAY_MS, MINUTE_MS, SECOND_MS, type Timetable } from './timetable.ts';

/** A person's id and public keys on the two tablets. */
export interface PersonKeys {
  readonly id: string;
  readonly keys: readonly [string, string];
}

export interface Founding {
  readonly seed: string;
  readonly time: Timetable;
  readonly timeZone: string;
  readonly design: Design;
  readonly planHash: string;
  readonly tabletKeys: readonly [string, string];
  readonly devices: readonly [string, string];
  readonly people: { readonly [K in CrewKey]: PersonKeys };
}

/** The body that names the casting. */
export function genesisBody(f: Founding): Body<'genesis'> {
  const { id, keys } = f.people.lead;
  return {
    name: PRACTICE_CASTING_NAME,
    design: f.design,
    planHash: f.planHash,
    nonce: `practice ${f.seed}`,
    practice: true,
    timeZone: f.timeZone,
    dayOne: f.time.dayOne,
    founder: { person: id, name: crew.lead.name, roles: [...crew.lead.roles], key: keys[0] },
    device: { name: practiceTabletNames[0], key: f.tabletKeys[0] },
  };
}

/** Genesis, plan, roster, instrument register and the hall's numbers, on the morning of day 1. */
export function founding(f: Founding, plan: Plan, instruments: Iterable<Body<'instrument'>>): PracticeEvent[] {
  const start = f.time.onDay(1, 6);
  const others = crewKeys.filter((key) => key !== 'lead');
  const admitted = others.flatMap((key): PracticeEvent[] => {
    const { id, keys } = f.people[key];
    const { name, roles } = crew[key];
    return [
      written('person', { person: id, name, roles: [...roles] }),
      written('key', { person: id, key: keys[0], device: f.devices[0] }),
    ];
  });
  const furnaceTablet = [
    written('device', { device: f.devices[1], key: f.tabletKeys[1], name: practiceTabletNames[1] }),
    ...crewKeys.map((key) =>
      written('key', { person: f.people[key].id, key: f.people[key].keys[1], device: f.devices[1] }),
    ),
  ];
  const roster = [
    written('genesis', genesisBody(f)),
    written('plan', { plan, parents: [] }),
    ...admitted,
    ...furnaceTablet,
  ].map((event, index) => ({ ...event, at: start + index * 40 * SECOND_MS }));
  const registered = [...instruments].map((body, index) => ({
    ...written('instrument', body, 'quality'),
    at: start + 30 * MINUTE_MS + index * 45 * SECOND_MS,
  }));
  const numbers = { ...written('hall', hall), at: start + 60 * MINUTE_MS };
  return [...roster, ...registered, numbers];
}

const written = <K extends Body0>(kind: K, body: Body<K>, by: CrewKey = 'lead'): PracticeEvent =>
  ({ tablet: 0, at: 0, by, kind, body }) as unknown as PracticeEvent;
type Body0 = 'genesis' | 'plan' | 'person' | 'key' | 'device' | 'instrument' | 'hall';

/** Extensions of an invented works: nobody's telephone. */
const hall: Body<'hall'> = {
  site: 'Quarry Lane works, casting hall (practice)',
  numbers: [
    { what: 'Fire and gas alarm, gatehouse', number: 'ext. 0-000' },
    { what: 'First aid', number: 'ext. 0-001' },
    { what: 'Electrical isolation', number: 'ext. 0-002' },
    { what: 'Crew lead on call', number: 'ext. 0-003' },
  ],
  assembly: 'Under the sign at the north gate',
  words: 'Say: casting hall, which door, what happened, who is hurt. Stay on the line.',
};

/** The tablets meet at the end of each day, as long as both are in use. */
export const evenings = (time: Timetable, until: number): number[] => {
  const first = time.onDay(1, 18);
  const count = Math.max(0, Math.floor((until - first) / DAY_MS) + 1);
  return Array.from({ length: count }, (_, day) => first + day * DAY_MS);
};
