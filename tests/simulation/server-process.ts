import type { Request } from '../../shared/sync/client-state.ts';
import { type SyncErrorCode, syncErrors } from '../../shared/sync/errors.ts';
import type { ServerStore } from '../../shared/sync/port.ts';
import type { Response } from '../../shared/sync/read-answer.ts';
import { servePull, servePush } from '../../shared/sync/serve.ts';
import { CASTING } from './cheap-entries.ts';
import type { Dice } from './dice.ts';
import type { EventQueue } from './event-queue.ts';
import type { Parts } from './parts.ts';
import { DiskFull, ProcessStore, type SimulatedStore } from './simulated-store.ts';

export interface ServerLimits {
  readonly mostEntries: number;
  readonly mostText: number;
}

/** One of the server's processes. It may die at any point of a request, before or after the store committed. */
export class ServerProcess {
  isUp = true;
  private life = 0;
  private readonly waiting = new Set<() => void>();
  private readonly store: ServerStore;

  constructor(
    private readonly queue: EventQueue,
    private readonly dice: Dice,
    private readonly parts: Parts,
    private readonly limits: ServerLimits,
    store: SimulatedStore,
    /** Told when promises go on: the world lets them run before its next step. */
    private readonly stirred: () => void,
  ) {
    this.store = parts.door(new ProcessStore(store, (work) => this.later(work)));
  }

  /** Answers unless it dies on the way. */
  receive(what: Request, answer: (response: Response) => void): void {
    if (!this.isUp) return;
    const { life } = this;
    this.stirred();
    this.respond(what)
      .catch((error: unknown) => refusal(error instanceof DiskFull ? 'store-full' : 'server-fault'))
      .then(
        (response) => {
          if (this.life === life) answer(response);
        },
        (error: unknown) => {
          throw error;
        },
      );
  }

  /** Of what waits for the store some is still committed, and nobody hears of it. */
  crash(): void {
    this.life += 1;
    this.isUp = false;
    const waiting = [...this.waiting];
    this.waiting.clear();
    for (const work of waiting) if (this.dice.chance(0.5)) work();
  }

  private later(work: () => void): void {
    this.waiting.add(work);
    this.queue.in(this.dice.around(10), () => {
      if (!this.waiting.delete(work)) return;
      this.stirred();
      work();
    });
  }

  private async respond(what: Request): Promise<Response> {
    const { store, limits, parts } = this;
    switch (what.to) {
      case 'heads':
        return { status: 200, text: JSON.stringify(await store.heads(CASTING)) };
      case 'push': {
        const kept = await servePush(store, CASTING, what.text, limits, parts.read);
        return 'code' in kept ? refusal(kept.code, kept.details) : { status: 200, text: JSON.stringify(kept) };
      }
      case 'pull': {
        const page = await servePull(store, CASTING, { after: what.after, without: what.without, ...limits });
        return { status: 200, text: page.text, last: String(page.last), count: String(page.count) };
      }
    }
  }
}

const refusal = (code: SyncErrorCode, details: object = {}): Response => ({
  status: syncErrors[code].status,
  text: JSON.stringify({ error: { code, ...details } }),
});
