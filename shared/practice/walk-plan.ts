import { sha256Hex } from '../logbook/canonical.ts';
import type { Role } from '../logbook/kinds.ts';
import { coreSample } from '../logbook/state/core-sample.ts';
import { isWorkedOut } from '../logbook/state/derived.ts';
import { plannedAtHours } from '../logbook/state/heat.ts';
import { dueRounds } from '../logbook/state/rounds.ts';
import { characteristicById, limitsAt, predecessorsOf } from '../plan/lookup.ts';
import type { Channel, Characteristic, Operation, Station } from '../plan/schema.ts';
import type { CrewKey } from './crew.ts';
import type { Known, PracticeEvent } from './events.ts';
import type { Site } from './site.ts';
import type { Stage } from './stages.ts';
import { DAY_MS, heatPlanOf, MINUTE_MS } from './timetable.ts';

/** Who of the crew signs in a role. */
const signers: Readonly<Record<string, CrewKey>> = {
  'crew-lead': 'lead',
  'process-engineer': 'engineer',
  quality: 'quality',
  customer: 'customer',
};
const HALL_C = 20;
/** As many as any hold point wants of one thing. */
const PHOTOS = 4;

/** What happens to a crew besides the plan. */
export interface Told {
  /** What a station is found at, where that is not its nominal. */
  readonly value?: (characteristic: Characteristic, operation: string, station: Station, good: number) => number;
  /** What else is written in an operation. */
  readonly besides?: (site: Site, operation: string) => PracticeEvent[];
}

/**
 * The plan walked to the end of an operation by a crew to whom nothing ever happens: every sheet answered yes, every
 * station measured at its nominal, every round walked, every hold point before the last one signed.
 */
export const walkPlan =
  (until: string, told: Told = {}): Stage =>
  (site) => {
    const walked = [...predecessorsOf(site.plan, until), until];
    return site.plan.operations
      .filter((o) => walked.includes(o.id))
      .flatMap((operation) => [
        ...work(site, operation, told),
        ...site.plan.holds
          .filter((hold) => hold.after === operation.id)
          .flatMap((hold) => [
            ...hold.requirements.flatMap((r, i) =>
              r.kind === 'statement'
                ? [site.state(hold.id, r.id, 'lead', site.time.at(operation.id, 1) + (5 + i) * MINUTE_MS, 'So it is.')]
                : [],
            ),
            ...(operation.id === until
              ? []
              : site.sign(
                  hold.id,
                  hold.roles.map((role) => [signers[role]!, role as Role] as const),
                  site.time.at(operation.id, 1) + 30 * MINUTE_MS,
                )),
          ]),
      ]);
  };

function work(site: Site, operation: Operation, told: Told): PracticeEvent[] {
  const { id, measures, heatPlan } = operation;
  return [
    ...witnesses(site, id),
    site.mark(id, 'started'),
    ...site.sheet(id, { at: [0.05, 0.97] }),
    ...(heatPlan ? rounds(site, id, heatPlan) : []),
    ...measures.flatMap((name, i) => measured(site, id, name, 0.1 + (0.8 * i) / measures.length, told)),
    ...(told.besides?.(site, id) ?? []),
    ...operation.photos.map((wanted) => photographed(site, id, wanted)),
    site.mark(id, 'finished'),
  ];
}

/** Photos that only their names are of: they travel apart, and no hold point looks into them. */
function photographed(site: Site, operation: string, wanted: string): PracticeEvent {
  const photos = Array.from({ length: PHOTOS }, (_, i) => {
    const name = `${operation} ${wanted} ${i}`;
    const small = { hash: sha256Hex(`${name} small`), bytes: 9_000, width: 320, height: 240 };
    return { hash: sha256Hex(name), bytes: 300_000, width: 1600, height: 1200, type: 'image/webp', small };
  });
  const body = { photos, operation, wanted };
  return site.write({ tablet: 0, at: site.time.at(operation, 0.96), by: 'technician', kind: 'photo', body });
}

const witnesses = (site: Site, operation: string): PracticeEvent[] =>
  site.plan.witnesses
    .filter((w) => w.operations[0] === operation)
    .flatMap((w) => [
      site.witness(w.id, 'told', 'quality', site.time.at(operation, 0) - 8 * DAY_MS, 'By letter.'),
      site.witness(w.id, 'attended', 'customer', site.time.at(operation, 0.5), 'Looked at some places.'),
    ]);

/** Every station once, but what is worked out from other readings. */
function measured(site: Site, operation: string, name: string, at: number, told: Told): PracticeEvent[] {
  const characteristic = characteristicById(site.plan, name);
  if (!characteristic || (characteristic.kind === 'derived' && isWorkedOut(name))) return [];
  const { each } = characteristic;
  if (each === 'crack' || each === 'chip') return [];
  const pass = site.pass({
    operation,
    characteristic: name,
    at,
    every_s: 5,
    named: each === undefined ? [] : [`${each} 1`],
    warm: { part_C: HALL_C, scale_C: HALL_C },
    value: (station) => {
      const good = goodValue(site, characteristic, operation, station);
      return told.value?.(characteristic, operation, station, good) ?? good;
    },
  });
  return sampled(characteristic, operation, pass);
}

/** Where a sample is read, only what is drawn: that follows from the casting's fingerprint, which no story knows. */
function sampled(characteristic: Characteristic, operation: string, pass: readonly PracticeEvent[]): PracticeEvent[] {
  let drawn: ReadonlySet<string> | null = null;
  const isDrawn = (known: Known, station: string): boolean => {
    drawn ??= new Set(coreSample(known.view(), characteristic, operation)?.stations ?? []);
    return drawn.size === 0 || drawn.has(station);
  };
  if (characteristic.sampling.all || characteristic.sampling.count === undefined) return [...pass];
  return pass.map((event) => {
    if (event.kind !== 'reading' || typeof event.body === 'function') return event;
    const { station } = event.body;
    return { ...event, only: (known) => isDrawn(known, station) };
  });
}

/** The nominal, or the middle where that lies too near a limit. */
export function goodValue({ plan }: Site, characteristic: Characteristic, operation: string, station: Station): number {
  const { nominal, lower, upper } = limitsAt(plan, characteristic.id, operation, station.id);
  const room = 4 * (characteristic.uncertainty ?? 0);
  if (lower !== null && upper !== null) {
    const inside = nominal !== null && nominal - lower >= room && upper - nominal >= room;
    return inside || lower === upper ? (nominal ?? lower) : (lower + upper) / 2;
  }
  if (lower !== null) return Math.max(nominal ?? 0, 1.2 * lower + room);
  if (upper !== null) return Math.min(nominal ?? upper / 2, upper - room);
  return nominal ?? 1;
}

function rounds(site: Site, operation: string, heatPlan: string): PracticeEvent[] {
  const plan = heatPlanOf(site.plan, heatPlan);
  const start = site.time.at(operation, 0);
  const due = dueRounds(plan);
  const planned = plannedAtHours(
    plan,
    due.map((d) => d.at_h),
  );
  return due.map(({ at_h, extent }, index) => {
    const at = start + Math.round(at_h * 3600) * 1000;
    const channels = site.plan.channels.filter((c) => extent === 'full' || c.key);
    return site.write({
      tablet: 0,
      at: at + MINUTE_MS,
      observedAt: at,
      by: 'technician',
      kind: 'round',
      body: {
        operation,
        heatPlan,
        extent,
        dueAt: site.time.iso(at),
        plan: site.planHash,
        readings: channels.map((channel) => {
          const value = channelValue(channel, planned[index]!.planned_C);
          const typed = { text: String(value), unit: channel.unit, value };
          return {
            channel: channel.id,
            ...(channel.group === 'HZ-sum' ? {} : { typed }),
            value,
            state: 'good' as const,
          };
        }),
        observer: site.personId('technician'),
        way: 'keypad',
      },
    });
  });
}

const STEADY: Readonly<Record<string, number>> = { RJ: 25, HZ: 10, 'HZ-sum': 50, SR: 0.1 };

/** A furnace that does what its plan says. */
const channelValue = (channel: Channel, planned_C: number): number =>
  STEADY[channel.group] ?? Number(planned_C.toFixed(1));
