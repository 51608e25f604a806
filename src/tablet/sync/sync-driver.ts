import { carriedUpTo } from '../../../shared/sync/carried.ts';
import { step } from '../../../shared/sync/client.ts';
import {
  type Phase,
  type Request,
  type SyncEffect,
  type SyncEvent,
  type SyncState,
  startState,
} from '../../../shared/sync/client-state.ts';
import { BATCH_ENTRIES } from '../../../shared/sync/limits.ts';
import { viewOf } from '../../../shared/sync/log-view.ts';
import type { ChainView, StoredEntry } from '../../../shared/sync/port.ts';
import type { CastingStore } from '../storage/casting-store.ts';
import { PageChecker } from './page-checker.ts';
import { PageReader } from './page-reader.ts';
import { PagesAhead, type Pull, type Sent } from './pages-ahead.ts';
import { askServer, type ServerLink } from './server-requests.ts';

/** How soon the server is asked again while somebody looks at the screen. */
const POLL_ms = 5_000;
/** Entries of one answer that are taken, whatever a server is set to give. */
export const MOST_TAKEN = 100_000;

export interface DriverParts {
  readonly store: CastingStore;
  readonly link: ServerLink;
  /** Hears of every step; `lacking` is how many entries the server is known to have that are not here. */
  readonly told: (state: SyncState, lacking: number) => void;
  /** Resolves when the screens show what was taken in. */
  readonly shown: () => Promise<void>;
  /** Hears when a pass has ended with nothing left to carry but what was refused. */
  readonly passEnded: () => void;
}

/**
 * Runs the tablet's side of sync over HTTP and its own store, whose log must have been read. One window of a tablet
 * does a pass at a time; between passes it holds nothing, so that another may.
 */
export class SyncDriver {
  private state: SyncState = startState();
  private readonly events: SyncEvent[] = [];
  private isRunning = false;
  private readonly ending = new AbortController();
  private alarm: ReturnType<typeof setTimeout> | undefined;
  private asking = new AbortController();
  private readonly ahead = new PagesAhead((what) => this.sent(what));
  private readonly page = new PageReader();
  private readonly checker: PageChecker;
  /** Lets another window have its turn; null while this one has none. */
  private letGo: (() => void) | null = null;
  private readonly view: ChainView;

  constructor(private readonly parts: DriverParts) {
    this.view = viewOf(parts.store.log);
    this.checker = new PageChecker(parts.store.db.casting);
  }

  /** Something was saved, the network or the screen came back, or somebody asks. */
  start(): void {
    this.happen({ on: 'start' });
  }

  /** Breaks off what is under way; nothing is lost by it. */
  end(): void {
    this.ending.abort();
    this.asking.abort();
    clearTimeout(this.alarm);
    this.rest();
  }

  private get hasEnded(): boolean {
    return this.ending.signal.aborted;
  }

  private happen(event: SyncEvent): void {
    if (this.hasEnded) return;
    this.events.push(event);
    if (!this.isRunning) void this.run();
  }

  private async run(): Promise<void> {
    this.isRunning = true;
    try {
      for (let event = this.events.shift(); event; event = this.events.shift()) {
        if (this.letGo === null) await this.takeTurn();
        if (this.hasEnded) break;
        this.take(event);
      }
    } catch (error) {
      if (!this.hasEnded) console.error('Sync waits for the next time', error);
      this.rest();
    } finally {
      this.isRunning = false;
    }
  }

  /** Waits until no other window of this tablet does a pass, and takes over what that one has stored. */
  private async takeTurn(): Promise<void> {
    const { store } = this.parts;
    const { signal } = this.ending;
    await new Promise<void>((resolve, reject) => {
      const held = () => {
        resolve();
        return new Promise<void>((letGo) => {
          this.letGo = letGo;
        });
      };
      navigator.locks.request(`lehrbook-sync/${store.db.casting}`, { signal }, held).catch(reject);
    });
    await store.catchUp();
    const row = await store.db.server.get('server');
    // Another window has left the server, or joined it anew.
    if (row?.token !== this.parts.link.token) this.end();
    else this.state = { ...this.state, cursor: row.cursor };
  }

  private rest(): void {
    this.ahead.giveUp();
    this.checker.rest();
    this.letGo?.();
    this.letGo = null;
  }

  private take(event: SyncEvent): void {
    const { store } = this.parts;
    const before = this.state;
    const { state, effects } = step(before, event, {
      settings: {
        casting: store.db.casting,
        device: store.device,
        poll_ms: document.visibilityState === 'visible' ? POLL_ms : null,
        mostTaken: MOST_TAKEN,
        read: this.page.read,
      },
      view: this.view,
      random: Math.random,
    });
    this.state = state;
    for (const effect of effects) this.perform(effect);
    if (state.phase.at === 'waiting') this.asking.abort();
    if (isAtRest(state.phase)) this.rest();
    this.tell(before);
  }

  private tell(before: SyncState): void {
    const { state } = this;
    const { told, passEnded } = this.parts;
    told(state, this.lacking());
    if (state.theirs !== before.theirs) this.noteCarried();
    if (state.phase.at === 'idle' && before.phase.at !== 'idle') passEnded();
  }

  private lacking(): number {
    const { log } = this.parts.store;
    return Object.entries(this.state.theirs ?? {}).reduce((sum, [device, heads]) => {
      const furthest = Math.max(...heads.map(([seq]) => seq));
      return sum + Math.max(0, furthest - (log.head(device)?.[0] ?? 0));
    }, 0);
  }

  private noteCarried(): void {
    const { store } = this.parts;
    const head = store.log.head(store.device);
    const carried = head ? carriedUpTo(this.view, this.state.theirs ?? {}, store.device, head[1]) : 0;
    if (carried === store.carried) return;
    store
      .noteCarried(carried)
      .then(() => this.parts.told(this.state, this.lacking()))
      .catch((error: unknown) => console.error('What was carried is noted the next time', error));
  }

  private perform(effect: SyncEffect): void {
    switch (effect.do) {
      case 'ask':
        this.ask(effect.request, effect.what);
        break;
      case 'take':
        void this.keep(effect.request, effect.entries);
        break;
      case 'wake':
        clearTimeout(this.alarm);
        this.alarm = setTimeout(() => this.happen({ on: 'woke', key: effect.key }), effect.in_ms);
    }
  }

  private ask(request: number, what: Request): void {
    const { answer, controller } = (what.to === 'pull' && this.ahead.take(what)) || this.sent(what);
    this.asking = controller;
    if (what.to === 'pull') this.askAhead(what);
    answer.then(
      // What is no answer of a server is refused with a code that the machine does not know.
      (said) => this.happen({ on: 'answer', request, answer: said ?? { of: 'refusal', code: 'unknown' } }),
      () => this.happen({ on: 'no-answer', request }),
    );
  }

  /** Where pages end can be guessed as long as no entry of this tablet lies between those of others. */
  private askAhead(what: Pull): void {
    const { state, parts } = this;
    if (!Object.hasOwn(state.theirs ?? {}, parts.store.device)) this.ahead.expect(what, what.after + this.lacking());
  }

  private sent(what: Request): Sent {
    const controller = new AbortController();
    const { ahead, checker } = this;
    if (what.to === 'pull' && this.lacking() >= BATCH_ENTRIES) checker.prepare();
    const headed = (last: number, count: number) => {
      if (what.to === 'pull' && !controller.signal.aborted) ahead.headed(what, last, count);
    };
    return {
      answer: askServer(this.parts.link, what, controller.signal, { headed, unzip: checker.check }),
      controller,
    };
  }

  private async keep(request: number, entries: readonly StoredEntry[]): Promise<void> {
    const { last } = this.state.phase as Phase & { at: 'taking' };
    const { store } = this.parts;
    const run = this.checker.runOf(entries);
    try {
      const isTaken = run !== undefined && (await store.takeRun(run, last));
      if (!isTaken) await store.takeIn(await this.page.proven(entries), last);
      // What came in is shown before more comes: else the screens would work everything out again and again.
      await this.parts.shown();
      this.happen({ on: 'taken', request });
    } catch (error) {
      if (!this.hasEnded) console.error('What came in could not be stored', error);
      this.happen({ on: 'not-taken', request });
    }
  }
}

const isAtRest = ({ at }: Phase): boolean => at === 'idle' || at === 'waiting';
