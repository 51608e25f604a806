import { cheapEntry, deviceNamed } from './cheap-entries.ts';
import { Dice } from './dice.ts';
import { Disk } from './disk.ts';
import { EventQueue } from './event-queue.ts';
import { Model, type Place } from './model.ts';
import { Network } from './network.ts';
import { type Parts, realParts } from './parts.ts';
import { ServerProcess } from './server-process.ts';
import { SimulatedStore } from './simulated-store.ts';
import { Tablet } from './tablet.ts';
import { drawTroubles, noTroubles, type Troubles } from './troubles.ts';

const MOST_TABLETS = 6;
/** A world of many entries has more of the same; what goes wrong goes wrong with few. */
const MOST_ENTRIES = 800;
/** Virtual time in which all must agree once nothing goes wrong any more: some of the longest waits. */
const SETTLED_WITHIN_ms = 3_600_000;
const LOOK_THROUGH_EVERY = 5_000;
/** So many requests in so short a time that carry nothing are a storm. */
const STORM = { requests: 60, within_ms: 10_000 };

export interface Outcome {
  readonly seed: number;
  readonly steps: number;
  readonly entries: number;
  readonly faults: readonly string[];
  /** What went wrong in it, and how often. */
  readonly met: Readonly<Record<string, number>>;
}

/** One simulated hall: tablets, two server processes over one store, a network between them, and everything that goes wrong. */
export class World {
  private readonly queue = new EventQueue();
  private readonly dice: Dice;
  private troubles: Troubles;
  private readonly network: Network;
  private readonly store = new SimulatedStore();
  private readonly processes: ServerProcess[];
  private readonly tablets: Tablet[] = [];
  private readonly places = new Map<Tablet, Place>();
  private readonly serverPlace: Place = { name: 'the server', lines: () => this.store.arrivals, isStrict: true };
  private readonly model = new Model(this.serverPlace, () => [...this.places.values()]);
  private backup: ReturnType<SimulatedStore['backup']> = [];
  private readonly snapshots = new Map<Tablet, Disk>();
  private readonly met: Record<string, number> = {};
  private isHealing = false;
  private steps = 0;
  /** Something waits for promises to go on. */
  private isStirred = false;

  constructor(
    readonly seed: number,
    private readonly parts: Parts = realParts,
  ) {
    this.dice = new Dice(seed, 'world');
    this.troubles = drawTroubles(this.dice);
    this.network = new Network(
      this.queue,
      this.dice,
      () => this.troubles,
      (trouble) => this.meet(trouble),
    );
    const limits = {
      mostEntries: this.dice.pick([1, 3, 20, 5000]),
      mostText: this.dice.pick([500, 4_000, 16_000_000]),
    };
    const stirred = () => {
      this.isStirred = true;
    };
    this.processes = [1, 2].map(() => new ServerProcess(this.queue, this.dice, parts, limits, this.store, stirred));
    const count = this.dice.whole(1, MOST_TABLETS);
    for (let n = 0; n < count; n++) this.addTablet(new Disk(deviceNamed(n)));
    const pace_ms = this.dice.pick([2_000, 20_000, 60_000]);
    for (const tablet of [...this.tablets]) this.keepWriting(tablet, pace_ms);
    this.scheduleTroubles();
  }

  /** Lets it run for so many steps with all its troubles, heals it, and judges what is left. */
  async run(steps: number): Promise<Outcome> {
    while (this.steps < steps && this.model.faults.length === 0) await this.step();
    this.heal();
    const until_ms = this.queue.now_ms + SETTLED_WITHIN_ms;
    while (this.model.faults.length === 0 && this.queue.nextAt_ms < until_ms && !this.isQuiet()) await this.step();
    if (this.model.faults.length === 0) {
      this.model.end();
      await this.checkRest();
    }
    if (Object.values(this.store.heads()).some((heads) => heads.length > 1)) this.meet('fork');
    const { seed, steps: taken, met } = this;
    return { seed, steps: taken, entries: this.model.count, faults: this.model.faults, met };
  }

  private meet(trouble: string): void {
    this.met[trouble] = (this.met[trouble] ?? 0) + 1;
  }

  private async step(): Promise<void> {
    this.queue.step();
    this.steps += 1;
    // What the server's code awaits is settled by promises alone, and so in the same order every time.
    if (this.isStirred) {
      this.isStirred = false;
      await new Promise((resolve) => setImmediate(resolve));
    }
    this.model.look();
    if (this.steps % LOOK_THROUGH_EVERY === 0) this.model.lookThrough();
  }

  private isQuiet(): boolean {
    return this.steps % 50 === 0 && this.model.isSettled() && this.tablets.every((t) => t.state.phase.at === 'idle');
  }

  /** When all agree nothing is carried any more: a poll asks for the heads and that is all. */
  private async checkRest(): Promise<void> {
    const run = async (time_ms: number) => {
      const until_ms = this.queue.now_ms + time_ms;
      while (this.queue.nextAt_ms < until_ms) await this.step();
    };
    await run(30_000);
    const carried = () => this.tablets.map((t) => t.requests.push + t.requests.pull).join();
    const before = carried();
    await run(30_000);
    if (carried() !== before) this.model.fault('tablets carry entries though all agree');
  }

  private addTablet(disk: Disk): Tablet {
    const n = this.tablets.length;
    const tablet: Tablet = new Tablet(n, disk, this.queue, this.dice, this.parts, {
      send: (what, answered) => {
        const process = this.dice.pick(this.processes);
        const text = what.to === 'push' ? this.network.carried(what.text) : '';
        const sent = what.to === 'push' ? { ...what, text } : what;
        this.watchForStorm(tablet);
        this.network.send(n, 'there', () => {
          process.receive(sent, (response) => {
            if (sent.to === 'push' && response.status === 200) this.model.serverAcknowledged(sent.text);
            if (response.status !== 200) this.meet(JSON.parse(response.text).error.code);
            const back = sent.to === 'pull' ? { ...response, text: this.network.carried(response.text) } : response;
            this.network.send(n, 'back', () => {
              answered(back);
              if (tablet.state.sweep.isUnderWay) this.meet('sweep');
              this.model.believes(`tablet ${n}`, tablet.state.theirs);
            });
          });
        });
      },
      clockJumps: () => this.troubles.clockJumps / 20,
      meet: (trouble) => this.meet(trouble),
    });
    this.tablets.push(tablet);
    this.places.set(tablet, { name: `tablet ${n}`, lines: () => tablet.disk.kept, isStrict: false });
    tablet.start();
    return tablet;
  }

  private watchForStorm({ asked, n }: Tablet): void {
    if (asked.count > STORM.requests && this.queue.now_ms - asked.since_ms < STORM.within_ms)
      this.model.fault(`tablet ${n} asks again and again without a pause`);
    if (this.queue.now_ms - asked.since_ms > STORM.within_ms) asked.count = 0;
  }

  private keepWriting(tablet: Tablet, pace_ms: number): void {
    this.queue.in(this.dice.around(pace_ms), () => {
      if (this.isHealing || this.model.count >= MOST_ENTRIES) return;
      if (tablet.isUp && !tablet.isFull) this.write(tablet);
      this.keepWriting(tablet, pace_ms);
    });
  }

  /** Somebody saves an entry. A newer build knows kinds that others do not. */
  private write(tablet: Tablet): void {
    const { disk } = tablet;
    const before = disk.head && disk.get(disk.head[1])!;
    const kind = this.dice.chance(0.2) ? 'kind-of-a-newer-build' : 'note';
    const entry = cheapEntry(this.model.count, disk.device, (before?.seq ?? 0) + 1, before?.hash ?? null, kind);
    this.model.wrote(entry.text, before ? this.model.numberOf(before.text) : null);
    disk.add(entry);
    disk.head = [entry.seq, entry.hash];
    tablet.start();
  }

  private scheduleTroubles(): void {
    const { troubles: t } = this;
    this.every(t.tabletCrashes, () => this.crashTablet(this.dice.pick(this.tablets)));
    this.every(t.serverCrashes, () => this.crashProcess(this.dice.pick(this.processes)));
    this.every(t.cuts, () => this.cut(this.dice.pick(this.tablets).n));
    this.every(t.fullDisks, () => this.fill(this.dice.pick(this.tablets)));
    this.every(t.fullServer, () => this.fill(this.store));
    this.every(t.backups, () => {
      this.backup = this.store.backup();
      const tablet = this.dice.pick(this.tablets);
      this.snapshots.set(tablet, tablet.disk.copy());
    });
    this.every(t.serverRestores, () => this.restoreServer());
    this.every(t.tabletRestores, () => this.restoreTablet(this.dice.pick(this.tablets)));
    this.every(t.clones, () => this.clone(this.dice.pick(this.tablets)));
    this.every(t.carrying, () => this.carry(this.dice.pick(this.tablets), this.dice.pick(this.tablets)));
  }

  private every(aMinute: number, happen: () => void): void {
    if (aMinute === 0) return;
    this.queue.in(this.dice.around(60_000 / aMinute), () => {
      if (this.isHealing) return;
      happen();
      this.every(aMinute, happen);
    });
  }

  private forAWhile(end: () => void): void {
    this.queue.in(this.dice.around(20_000), end);
  }

  private crashTablet(tablet: Tablet): void {
    if (!tablet.isUp) return;
    this.meet('tablet crash');
    tablet.crash();
    this.forAWhile(() => {
      if (!tablet.isUp) tablet.restart();
    });
  }

  private crashProcess(process: ServerProcess): void {
    this.meet('server crash');
    process.crash();
    this.forAWhile(() => {
      process.isUp = true;
    });
  }

  private cut(n: number): void {
    this.meet('one-way cut');
    const way = this.dice.pick(['there', 'back'] as const);
    this.network.cutOff(n, way);
    this.forAWhile(() => this.network.heal(n, way));
  }

  private fill(disk: { isFull: boolean }): void {
    disk.isFull = true;
    this.forAWhile(() => {
      disk.isFull = false;
    });
  }

  /** Both processes are stopped for it, as the page about the server asks. */
  private restoreServer(): void {
    if (this.model.wouldEndAcknowledged(this.serverPlace, this.backup)) return;
    this.meet('server restored');
    for (const process of this.processes) this.crashProcess(process);
    this.store.restore(this.backup);
    this.model.restored(this.serverPlace);
  }

  /** Its whole storage is put back, key and all: it goes on from its old head, and makes a fork. */
  private restoreTablet(tablet: Tablet): void {
    const snapshot = this.snapshots.get(tablet);
    const place = this.places.get(tablet)!;
    if (!snapshot || this.model.wouldEndAcknowledged(place, snapshot.kept)) return;
    this.meet('tablet restored');
    tablet.crash();
    tablet.disk = snapshot.copy();
    this.model.restored(place);
    this.forAWhile(() => {
      if (!tablet.isUp) tablet.restart();
    });
  }

  private clone(tablet: Tablet): void {
    if (this.tablets.length >= MOST_TABLETS) return;
    this.meet('clone');
    this.keepWriting(this.addTablet(tablet.disk.copy()), 20_000);
  }

  private carry(from: Tablet, to: Tablet): void {
    if (from === to || !to.isUp || to.isFull) return;
    this.meet('carried by file');
    for (const entry of from.disk.kept) to.disk.add(entry);
    to.start();
  }

  private heal(): void {
    this.isHealing = true;
    this.troubles = noTroubles;
    this.store.isFull = false;
    for (const process of this.processes) process.isUp = true;
    for (const tablet of this.tablets) {
      tablet.isFull = false;
      for (const way of ['there', 'back'] as const) this.network.heal(tablet.n, way);
      if (tablet.isUp) tablet.wakeUp();
      else tablet.restart();
    }
  }
}
