import type { Answer, Request } from '../../../shared/sync/client-state.ts';
import { PULL_ENTRIES } from '../../../shared/sync/limits.ts';

export type Pull = Request & { to: 'pull' };

/** A request that is under way. */
export interface Sent {
  readonly answer: Promise<Answer | null>;
  readonly controller: AbortController;
}

/** Pages that are on their way, or being checked, while one is being stored. */
const DEPTH = 6;

/**
 * Asks for the next pages of arrivals before they are wanted. Where a page ends is known when its head comes; until then
 * it is taken to be full, and what was asked for by that is given up where it was not.
 */
export class PagesAhead {
  private sent: (Sent & { readonly what: Pull })[] = [];
  private next: { readonly what: Pull; readonly count: number } | null = null;
  private isGuessing = true;

  constructor(private readonly send: (what: Pull) => Sent) {}

  /**
   * A long way is still to go: the pages after a request's own need not wait for its head.
   * @param count how many entries have arrived at the server, as far as its heads tell
   */
  expect(what: Pull, count: number): void {
    if (!this.isGuessing || this.sent.length > 0) return;
    this.next = { what: { ...what, after: what.after + PULL_ENTRIES }, count };
    this.askOn();
  }

  /** How far the page of a request goes: those after it may be asked for. */
  headed(what: Pull, last: number, count: number): void {
    const place = this.sent.findIndex((s) => s.what === what) + 1;
    const follower = this.sent[place];
    if (follower && follower.what.after !== last) {
      this.isGuessing = false;
      this.giveUp(place);
    }
    if (this.sent.length === place) this.next = { what: { ...what, after: last }, count };
    this.askOn();
  }

  /** The page that was asked for ahead; null, and those ahead are given up, where it is another that is wanted. */
  take(what: Pull): (Sent & { readonly what: Pull }) | null {
    const first = this.sent[0];
    if (first && first.what.after === what.after && first.what.without === what.without) {
      this.sent.shift();
      this.askOn();
      return first;
    }
    this.giveUp();
    return null;
  }

  giveUp(from = 0): void {
    for (const { controller } of this.sent.splice(from)) controller.abort();
    this.next = null;
  }

  private askOn(): void {
    while (this.next !== null && this.next.what.after < this.next.count && this.sent.length < DEPTH) {
      const { what, count } = this.next;
      this.next = this.isGuessing ? { what: { ...what, after: what.after + PULL_ENTRIES }, count } : null;
      const sent = { what, ...this.send(what) };
      // Where it is not wanted after all, nobody hears that it failed.
      sent.answer.catch(() => undefined);
      this.sent.push(sent);
    }
  }
}
