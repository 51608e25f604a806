import type { Answer, Body, EntryWay, Kind, Role } from '../logbook/kinds.ts';
import { holdById, holdState } from '../logbook/state/holds.ts';
import type { ReadingInput, Temperatures } from '../logbook/state/judge-reading.ts';
import { dateIn } from '../logbook/time-words.ts';
import { characteristicById, operationById, stationsOf } from '../plan/lookup.ts';
import type { Characteristic, Plan, Station } from '../plan/schema.ts';
import { type CrewKey, crew, type TabletIndex } from './crew.ts';
import type { Known, PracticeEvent, Writing } from './events.ts';
import { asRead, judgedReading } from './judged-reading.ts';
import type { LoggerRecord } from './logger-record.ts';
import { type Random, randomOf } from './random.ts';
import { MINUTE_MS, SECOND_MS, type Timetable } from './timetable.ts';

/** Readings of one characteristic, one station after the other. */
export interface Pass {
  readonly operation: string;
  readonly characteristic: string;
  /** When the first is read: a share of the operation. */
  readonly at: number;
  /** The moment itself, ms since 1970, where the operation runs by the clock of a heat. */
  readonly moment?: number;
  /** Nothing limits it yet: it still moves. */
  readonly unlimited?: boolean;
  /** From one station to the next, seconds. */
  readonly every_s?: number;
  readonly by?: CrewKey;
  readonly observer?: CrewKey;
  readonly tablet?: TabletIndex;
  /** Which of the planned stations; left out: all. */
  readonly stations?: (station: Station, index: number) => boolean;
  /** The stations where the plan leaves them to be named as they come. */
  readonly named?: readonly string[];
  /** The true value at 20 °C or as it is; the tablet rounds it to what the instrument shows. */
  readonly value: (station: Station, index: number) => number;
  /** Of part and scale, °C, where a length is brought to 20 °C. */
  readonly warm?: Temperatures;
  readonly way?: EntryWay;
  /** Stations that were read so many minutes before they were written. */
  readonly late?: Readonly<Record<string, number>>;
  readonly words?: Readonly<Record<string, string>>;
}

/** Another reading at a station: in place of one that is named by its key, or of one that is struck with it. */
export interface Again extends Pick<Pass, 'operation' | 'characteristic' | 'by' | 'tablet' | 'value' | 'warm'> {
  readonly station: string;
  /** The moment, ms since 1970. */
  readonly moment: number;
  readonly words?: string;
  readonly strike?: { readonly reason: string; readonly words: string };
}

/** What the stages of the practice casting are written with. */
export class Site {
  /** Files that entries of the story name; they lie beside the log. */
  readonly files: LoggerRecord[] = [];

  constructor(
    readonly seed: string,
    readonly plan: Plan,
    readonly planHash: string,
    readonly time: Timetable,
    readonly personId: (who: CrewKey) => string,
    /** The register as the crew made it at the start, by class. */
    private readonly instruments: ReadonlyMap<string, Body<'instrument'>>,
    /** Nothing is later than this, ms since 1970. */
    readonly endsAt: number,
  ) {}

  random(stream: string): Random {
    return randomOf(this.seed, stream);
  }

  write<K extends Kind>(event: Writing<K>): PracticeEvent {
    return event as unknown as PracticeEvent;
  }

  mark(operation: string, mark: 'started' | 'finished', by: CrewKey = 'lead', words?: string): PracticeEvent {
    const at = this.time.at(operation, mark === 'started' ? 0 : 1);
    const body = { operation, mark, ...(words ? { words } : {}) };
    return this.write({ tablet: 0, at, by, kind: 'operation', body });
  }

  /** Readings along a characteristic's stations. Each is kept under the key `operation/characteristic/station`. */
  pass(pass: Pass): PracticeEvent[] {
    const characteristic = this.characteristic(pass.characteristic);
    const start = pass.moment ?? this.time.at(pass.operation, pass.at);
    const random = this.random(`pace/${pass.operation}/${pass.characteristic}`);
    let at = start;
    return this.stations(characteristic, pass).map((station, index) => {
      const pace_s = pass.every_s ?? 50;
      if (index > 0) at += Math.round(pace_s * random.between(0.7, 1.4)) * SECOND_MS;
      const late = pass.late?.[station.id];
      return this.write({
        tablet: pass.tablet ?? 0,
        at,
        ...(late === undefined ? {} : { observedAt: at - late * MINUTE_MS }),
        by: pass.by ?? 'technician',
        kind: 'reading',
        body: this.reading(pass, characteristic, station, index, pass.words?.[station.id]),
        key: readingKey(pass.operation, characteristic.id, station.id),
      });
    });
  }

  /** A re-measure that names the reading before it, or a correction that strikes it in the same step. */
  again(again: Again): PracticeEvent[] {
    const characteristic = this.characteristic(again.characteristic);
    const station = this.stations(characteristic, {
      named: [again.station],
      stations: (s) => s.id === again.station,
    })[0]!;
    const key = readingKey(again.operation, characteristic.id, station.id);
    const { by = 'technician', tablet = 0, moment } = again;
    const body = this.reading(again, characteristic, station, 0, again.words);
    const { strike } = again;
    const struck = this.write({
      tablet,
      at: moment,
      by,
      kind: 'strike',
      body: (known) => ({ target: known.hashOf(key), ...strike! }),
    });
    const written = this.write({
      tablet,
      at: moment,
      by,
      kind: 'reading',
      body: (known) => ({ ...body, replaces: known.hashOf(key) }),
      key: `${key}/again`,
    });
    return strike ? [struck, written] : [written];
  }

  /** A check sheet filled in two goes; every item is answered yes unless it is told otherwise. */
  sheet(
    operation: string,
    filled: {
      readonly at: readonly [number, number];
      readonly by?: CrewKey;
      readonly tablet?: TabletIndex;
      readonly words?: Readonly<Record<string, string>>;
      readonly answers?: Readonly<Record<string, Answer>>;
      /** Items that nobody has answered yet. */
      readonly open?: readonly string[];
    },
  ): PracticeEvent[] {
    const { by = 'technician', tablet = 0, words = {}, answers = {}, open = [] } = filled;
    const items = operationById(this.plan, operation)!.checks.filter((c) => !open.includes(c.id));
    const half = Math.ceil(items.length / 2);
    return [items.slice(0, half), items.slice(half)].map((part, index) =>
      this.write({
        tablet,
        at: this.time.at(operation, filled.at[index as 0 | 1]),
        by,
        kind: 'sheet',
        body: {
          operation,
          answers: part.map(({ id }) => ({
            item: id,
            answer: answers[id] ?? 'yes',
            ...(words[id] ? { words: words[id] } : {}),
          })),
          plan: this.planHash,
          observer: this.personId(by),
          way: 'keypad',
        },
      }),
    );
  }

  /** One after the other signs a hold point over the evidence as the tablet has it. */
  sign(hold: string, signers: readonly (readonly [CrewKey, Role])[], from: number): PracticeEvent[] {
    return signers.map(([by, role], index) =>
      this.write({
        tablet: 0,
        at: from + index * 12 * MINUTE_MS,
        by,
        kind: 'release',
        body: (known) => {
          const view = known.view();
          const planned = holdById(view, hold)!;
          const { evidence, evidenceHash } = holdState(view, planned);
          return {
            hold,
            plan: view.planHash,
            evidence: [...evidence],
            evidenceHash,
            meaning: `${view.plan.signatureMeaning} ${planned.meaning}`,
            name: crew[by].name,
            role,
          };
        },
      }),
    );
  }

  /** What a hold point asks to be stated. */
  state(hold: string, requirement: string, by: CrewKey, at: number, words: string): PracticeEvent {
    const body = { hold, requirement, words, plan: this.planHash };
    return this.write({ tablet: 0, at, by, kind: 'attestation', body });
  }

  /** Who of the customer agreed to a concession, how, and when. */
  agreement(known: Known, at: number, how: 'letter' | 'call', reference: string) {
    const view = known.view();
    const { name } = view.standing.person(this.personId('customer'))!;
    return { agreedBy: name, customer: { name, how, on: dateIn(new Date(at), view.genesis.timeZone), reference } };
  }

  witness(witness: string, act: 'told' | 'attended', by: CrewKey, at: number, words: string): PracticeEvent {
    return this.write({ tablet: 0, at, by, kind: 'witness', body: { witness, act, words } });
  }

  note(operation: string, at: number, text: string, by: CrewKey, tablet: TabletIndex = 0): PracticeEvent {
    return this.write({ tablet, at, by, kind: 'note', body: { operation, text } });
  }

  private characteristic(id: string): Characteristic {
    const found = characteristicById(this.plan, id);
    if (!found) throw new Error(`The plan has no characteristic ${id}`);
    return found;
  }

  private stations(
    characteristic: Characteristic,
    { stations, named = [] }: Pick<Pass, 'stations' | 'named'>,
  ): Station[] {
    if (characteristic.each !== undefined) return named.map((id) => ({ id, label: id }));
    return stationsOf(this.plan, characteristic).filter(stations ?? (() => true));
  }

  private reading(
    pass: Pick<Pass, 'operation' | 'by' | 'observer' | 'value' | 'warm' | 'way' | 'unlimited'>,
    characteristic: Characteristic,
    station: Station,
    index: number,
    words?: string,
  ): Body<'reading'> {
    const instrument = this.instruments.get(characteristic.instruments.at(-1) ?? '') ?? null;
    const taken: ReadingInput = {
      plan: this.plan,
      operation: pass.operation,
      characteristic,
      station: station.id,
      read: pass.value(station, index),
      temperatures: characteristic.at20 ? pass.warm : undefined,
      instrument,
    };
    const judged = judgedReading({ ...taken, read: asRead(taken.read, taken) });
    return {
      operation: pass.operation,
      characteristic: characteristic.id,
      station: station.id,
      ...(pass.unlimited ? withoutLimits(judged) : judged),
      plan: this.planHash,
      instrument: instrument?.instrument ?? null,
      observer: this.personId(pass.observer ?? pass.by ?? 'technician'),
      way: pass.way ?? 'keypad',
      ...(words ? { words } : {}),
    };
  }
}

const withoutLimits = (judged: ReturnType<typeof judgedReading>): ReturnType<typeof judgedReading> => ({
  ...judged,
  limits: { ...judged.limits, lower: null, upper: null },
  verdict: null,
  calculations: {},
});

export const readingKey = (operation: string, characteristic: string, station: string): string =>
  `${operation}/${characteristic}/${station}`;

/** `name 1` to `name n`, for stations that the plan leaves open. */
export const numbered = (name: string, count: number): string[] =>
  Array.from({ length: count }, (_, index) => `${name} ${index + 1}`);
