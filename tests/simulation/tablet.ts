import type { Request, SyncEffect, SyncEvent, SyncState } from '../../shared/sync/client-state.ts';
import { startState } from '../../shared/sync/client-state.ts';
import { type Response, readAnswer } from '../../shared/sync/read-answer.ts';
import { CASTING } from './cheap-entries.ts';
import type { Dice } from './dice.ts';
import type { Disk } from './disk.ts';
import type { EventQueue } from './event-queue.ts';
import type { Parts } from './parts.ts';

const POLL_ms = 5_000;
const MOST_TAKEN = 100_000;

export interface TabletDoors {
  readonly send: (what: Request, answered: (response: Response) => void) => void;
  readonly clockJumps: () => number;
  readonly meet: (trouble: string) => void;
}

/** A simulated tablet: its storage lives on over a crash, its machine begins anew. */
export class Tablet {
  state: SyncState;
  isUp = true;
  isFull = false;
  private life = 0;
  private alarm: number | null = null;
  /** Requests since one carried something, and when the first of them was. */
  asked = { count: 0, since_ms: 0 };
  /** What it asked in all, by kind. */
  readonly requests = { heads: 0, push: 0, pull: 0 };

  constructor(
    readonly n: number,
    public disk: Disk,
    private readonly queue: EventQueue,
    private readonly dice: Dice,
    private readonly parts: Parts,
    private readonly doors: TabletDoors,
  ) {
    this.state = startState(disk.cursor);
  }

  start(): void {
    this.happen({ on: 'start' });
  }

  crash(): void {
    this.isUp = false;
    this.life += 1;
  }

  restart(): void {
    this.isUp = true;
    this.life += 1;
    this.state = startState(this.disk.cursor);
    this.start();
  }

  /** A tablet that slept through its alarm has it when it wakes up. */
  wakeUp(): void {
    if (this.alarm !== null) this.wake(this.alarm);
  }

  happen(event: SyncEvent): void {
    if (!this.isUp) return;
    const at = {
      settings: {
        casting: CASTING,
        device: this.disk.device,
        poll_ms: POLL_ms,
        mostTaken: MOST_TAKEN,
        read: this.parts.read,
      },
      view: this.disk,
      random: this.dice.uniform,
    };
    const { state, effects } = this.parts.step(this.state, event, at);
    this.state = state;
    // The driver keeps how far it looked, once the entries are kept.
    if (event.on === 'taken') this.disk.cursor = state.cursor;
    for (const effect of effects) this.perform(effect);
  }

  private perform(effect: SyncEffect): void {
    const { life } = this;
    const alive = (work: () => void) => () => {
      if (this.life === life) work();
    };
    switch (effect.do) {
      case 'ask':
        this.ask(effect.what, (response) => alive(() => this.hear(effect, response))());
        break;
      case 'take':
        this.queue.in(
          this.dice.around(20),
          alive(() => this.take(effect)),
        );
        break;
      case 'wake': {
        const wrong = this.dice.chance(this.doors.clockJumps());
        if (wrong) this.doors.meet('clock jump');
        const in_ms = wrong ? this.dice.around(this.dice.pick([100, 3_600_000])) : effect.in_ms;
        this.alarm = effect.key;
        this.queue.in(
          in_ms,
          alive(() => this.wake(effect.key)),
        );
      }
    }
  }

  private wake(key: number): void {
    if (this.alarm === key) this.alarm = null;
    this.happen({ on: 'woke', key });
  }

  private ask(what: Request, answered: (response: Response) => void): void {
    this.requests[what.to] += 1;
    if (this.asked.count === 0) this.asked.since_ms = this.queue.now_ms;
    this.asked.count += 1;
    this.doors.send(what, answered);
  }

  private hear({ request, what }: SyncEffect & { do: 'ask' }, response: Response): void {
    const answer = readAnswer(what.to, response);
    if (answer?.of === 'push' || answer?.of === 'pull') this.asked.count = 0;
    this.happen(answer ? { on: 'answer', request, answer } : { on: 'no-answer', request });
  }

  /** One transaction: the tablet may have died before it, or dies before it hears of it. */
  private take({ request, entries }: SyncEffect & { do: 'take' }): void {
    if (this.isFull && entries.length > 0) {
      this.doors.meet('tablet full');
      this.happen({ on: 'not-taken', request });
      return;
    }
    this.parts.take(this.disk, entries);
    const { life } = this;
    this.queue.in(this.dice.around(5), () => {
      if (this.life === life) this.happen({ on: 'taken', request });
    });
  }
}
