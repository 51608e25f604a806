import { sha256Hex, shortHash } from '../../logbook/canonical.ts';
import type { Body } from '../../logbook/kinds.ts';
import type { CrewKey } from '../crew.ts';
import type { PracticeEvent } from '../events.ts';
import type { Site } from '../site.ts';
import { HOUR_MS } from '../timetable.ts';
import { RESURVEY_SHARE } from './resurvey.ts';

type Line = Omit<Body<'arrangement'>, 'arrangement' | 'owner' | 'endsAt'> & {
  readonly name: string;
  readonly owner: CrewKey;
  readonly endsAt?: number;
};

/** What was arranged for a time: a channel left out and put right, a lead across the floor that outstayed its end, a borrowed gauge. */
export function arrangements(site: Site): PracticeEvent[] {
  const last = site.time.at('5.1', RESURVEY_SHARE);
  return [
    arrange(site, site.time.at('4.1', 0.52), 'nightLead', {
      name: 'BD-3',
      operation: '4.1',
      what: 'Alarm of BD-3 bypassed; BD-2 stands in for it',
      subject: { kind: 'channel', id: 'BD-3' },
      owner: 'engineer',
      endsWhen: 'the furnace is open and the pair is joined anew',
      reason: 'Open circuit at the band, out of reach while hot.',
    }),
    end(
      site,
      site.time.at('4.2', 0.6),
      'engineer',
      'BD-3',
      '4.2',
      'Pair SP-2 joined in; reads with its neighbours. Bypass off.',
    ),
    arrange(site, site.time.at('5.1', 0.06), 'technician', {
      name: 'lamp',
      operation: '5.1',
      what: 'Lamp lead across the north walkway, under a ramp',
      subject: { kind: 'other' },
      owner: 'lateTechnician',
      endsAt: site.time.at('5.1', 0.42),
      endsWhen: null,
      reason: 'The fixed lamp over the tub is out; fitter called.',
    }),
    arrange(site, site.time.at('5.1', 0.44), 'technician', {
      name: 'feelers',
      operation: '5.1',
      what: 'Feeler blades of the tool room in place of our own',
      subject: { kind: 'instrument' },
      owner: 'technician',
      endsAt: last + 30 * HOUR_MS,
      endsWhen: 'our own set is back',
      reason: 'Our own set is out for calibration.',
    }),
  ];
}

const idOf = (site: Site, name: string): string => shortHash(sha256Hex(`${site.seed} arrangement ${name}`));

function arrange(site: Site, at: number, by: CrewKey, { name, owner, endsAt, ...line }: Line): PracticeEvent {
  return site.write({
    tablet: 0,
    at,
    by,
    kind: 'arrangement',
    body: {
      ...line,
      arrangement: idOf(site, name),
      owner: site.personId(owner),
      endsAt: endsAt === undefined ? null : site.time.iso(endsAt),
    },
  });
}

const end = (site: Site, at: number, by: CrewKey, name: string, operation: string, words: string): PracticeEvent =>
  site.write({
    tablet: 0,
    at,
    by,
    kind: 'arrangement-end',
    body: { arrangement: idOf(site, name), operation, words },
  });
