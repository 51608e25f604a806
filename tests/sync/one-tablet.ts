import { step } from '../../shared/sync/client.ts';
import {
  type Answer,
  type Request,
  type SyncEffect,
  type SyncEvent,
  startState,
} from '../../shared/sync/client-state.ts';
import type { ReadEntry, StoredEntry } from '../../shared/sync/port.ts';
import { CASTING, cheapEntry, cheapRead } from '../simulation/cheap-entries.ts';
import { Disk } from '../simulation/disk.ts';

/** A chain of so many entries, or what goes on after one. */
export function grown(device: string, count: number, after: StoredEntry | null = null, first = 0): StoredEntry[] {
  const chain: StoredEntry[] = [];
  for (let n = 0; n < count; n++) {
    const before = chain.at(-1) ?? after;
    chain.push(cheapEntry(first + n, device, (before?.seq ?? 0) + 1, before?.hash ?? null, 'note'));
  }
  return chain;
}

/** One machine, driven by hand: a test says what happens and sees what it wants done. */
export class OneTablet {
  state = startState();
  readonly disk: Disk;
  random = 0;
  poll_ms: number | null = 5_000;
  effects: readonly SyncEffect[] = [];

  constructor(
    device: string,
    own: readonly StoredEntry[] = [],
    private readonly read: ReadEntry = cheapRead,
  ) {
    this.disk = new Disk(device);
    for (const entry of own) this.disk.add(entry);
  }

  happen(event: SyncEvent): this {
    const settings = {
      casting: CASTING,
      device: this.disk.device,
      poll_ms: this.poll_ms,
      mostTaken: 100_000,
      read: this.read,
    };
    const { state, effects } = step(this.state, event, { settings, view: this.disk, random: () => this.random });
    this.state = state;
    this.effects = effects;
    return this;
  }

  start(): this {
    return this.happen({ on: 'start' });
  }

  /** What it asks; null when it asks nothing. */
  get asked(): Request | null {
    const ask = this.effects.find((e) => e.do === 'ask');
    return ask ? ask.what : null;
  }

  get wakesIn_ms(): number | null {
    const wake = this.effects.find((e) => e.do === 'wake');
    return wake ? wake.in_ms : null;
  }

  get taken(): readonly StoredEntry[] | null {
    const take = this.effects.find((e) => e.do === 'take');
    return take ? take.entries : null;
  }

  answer(answer: Answer): this {
    return this.happen({ on: 'answer', request: this.state.request, answer });
  }

  refuse(code: string, more: { device?: string; retryAfter?: number } = {}): this {
    return this.answer({ of: 'refusal', code, ...more });
  }

  heads(heads: Record<string, [number, string][]>): this {
    return this.answer({ of: 'heads', heads });
  }

  /** Keeps what it is to take, and says so. */
  keep(): this {
    for (const entry of this.taken ?? []) this.disk.add(entry);
    return this.happen({ on: 'taken', request: this.state.request });
  }

  wake(): this {
    return this.happen({ on: 'woke', key: this.state.alarm });
  }
}
