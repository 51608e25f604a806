import { heatPlan } from '../../calculations/heat-plan.ts';
import { segmentEnds } from '../../logbook/state/heat.ts';
import { dueRounds } from '../../logbook/state/rounds.ts';
import { heatPlanInput } from '../../plan/heat-plan-hours.ts';
import type { PracticeEvent } from '../events.ts';
import { walker } from '../heat-rounds.ts';
import { preheatRound } from '../preheat-channels.ts';
import { numbered, type Site } from '../site.ts';
import { HOUR_MS, heatPlanOf, MINUTE_MS } from '../timetable.ts';

/** Two rounds in the cool-down that nobody walked, by their place from the end. */
const MISSED_FROM_END: ReadonlySet<number> = new Set([4, 13]);
/** Hour of the heat near the end of the soak at the peak, as a share of the heat. */
const PEAK_SHARE = 106.3 / 166.2;
const CRACK = 'stave crack';

/** Operations 4.1 and 4.2: the preheat with its rounds, and the bands put right when cold. */
export function preheat(site: Site): PracticeEvent[] {
  return [...heat(site), ...rounds(site), ...bandsCold(site)];
}

function heat(site: Site): PracticeEvent[] {
  const r = site.random('4.1');
  const operation = '4.1';
  return [
    site.mark(operation, 'started', 'lead', 'H02 signed; furnace shut.'),
    ...site.sheet(operation, {
      at: [0.01, 0.995],
      words: { c7: 'Haze until 450 °C, clear after.', c9: 'Turned at 0.1 rpm above 200 °C.' },
    }),
    ...site.pass({
      operation,
      characteristic: 'band-travel',
      at: PEAK_SHARE,
      every_s: 60,
      value: () => r.between(43, 48),
    }),
    ...site.pass({ operation, characteristic: 'preheat-peak', at: PEAK_SHARE, value: () => r.between(1180, 1183) }),
    site.mark(operation, 'finished', 'nightLead'),
  ];
}

function rounds(site: Site): PracticeEvent[] {
  const r = site.random('rounds P1');
  const plan = heatPlanOf(site.plan, 'P1');
  const start = site.time.at('4.1', 0);
  const due = dueRounds(plan);
  const end_h = segmentEnds(plan).at(-1)!;
  /** The furnace goes on while people are on their way: what they read is what it does when they are there. */
  const momentAt = (at_ms: number) => {
    const hour = Math.min(Math.max(0, (at_ms - start) / HOUR_MS), end_h);
    return { hour, ...heatPlan.compute(heatPlanInput(plan, [hour])).points[0]! };
  };
  let missed = false;
  return due.flatMap(({ at_h, extent }, index): PracticeEvent[] => {
    const dueAt = start + Math.round((at_h * HOUR_MS) / 1000) * 1000;
    const observedAt = dueAt + Math.round(r.between(-1, 4)) * MINUTE_MS;
    const readings = preheatRound(site.plan, momentAt(observedAt), r);
    if (MISSED_FROM_END.has(due.length - index)) {
      missed = true;
      return [];
    }
    const words = missed ? 'The round before was missed: alone at the gas alarm.' : undefined;
    missed = false;
    const by = walker(Number(site.time.iso(observedAt).slice(11, 13)));
    return [
      site.write({
        tablet: 0,
        at: observedAt + Math.round(r.between(5, 9)) * MINUTE_MS,
        observedAt,
        by,
        kind: 'round',
        body: {
          operation: '4.1',
          heatPlan: plan.id,
          extent,
          dueAt: site.time.iso(dueAt),
          plan: site.planHash,
          readings,
          observer: site.personId(by),
          way: 'keypad',
          ...(words ? { words } : {}),
        },
      }),
    ];
  });
}

function bandsCold(site: Site): PracticeEvent[] {
  const r = site.random('4.2');
  const operation = '4.2';
  const cracks = site.time.at(operation, 0.8);
  return [
    site.mark(operation, 'started'),
    ...site.sheet(operation, {
      at: [0.1, 0.95],
      words: { c6: 'All sixteen as new.', c10: 'Two hairlines outside, on staves 9 and 15.' },
    }),
    ...site.pass({
      operation,
      characteristic: 'band-tension',
      at: 0.4,
      every_s: 120,
      value: () => 0.1 * Math.round(10 * (4.05 + 0.08 * r.normal())),
    }),
    ...site.pass({ operation, characteristic: 'band-travel', at: 0.6, every_s: 60, value: () => r.between(65, 70) }),
    ...site.pass({
      operation,
      characteristic: 'stave-crack-length',
      at: 0.75,
      every_s: 240,
      named: numbered('crack', 2),
      value: () => r.between(18, 34),
    }),
    site.write({
      tablet: 0,
      at: cracks,
      by: 'technician',
      kind: 'finding',
      body: {
        operation,
        title: 'Hairline on the outside of stave 9',
        words: 'Between bands 2 and 3, not under a pad. Not through.',
        severity: 'major',
        blocks: 'H03',
        owner: site.personId('engineer'),
      },
      key: CRACK,
    }),
    site.mark(operation, 'finished'),
    site.write({
      tablet: 0,
      at: site.time.at(operation, 1) + 40 * MINUTE_MS,
      by: 'quality',
      kind: 'disposition',
      body: (known) => ({
        finding: known.hashOf(CRACK),
        operation,
        decision: 'concession',
        words: 'Map it, look at it again after the bake.',
        limits: 'Up to 50 mm, outside only, not under a band pad.',
        ...site.agreement(known, site.time.at(operation, 1), 'letter', 'SW-0217'),
        proposedBy: site.personId('engineer'),
        name: known.view().standing.person(site.personId('quality'))!.name,
        role: 'quality',
      }),
    }),
  ];
}
