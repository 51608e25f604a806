import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readEntry } from '../../shared/logbook/entry.ts';
import { Log } from '../../shared/logbook/log.ts';
import { step } from '../../shared/sync/client.ts';
import { type Request, type SyncEvent, startState } from '../../shared/sync/client-state.ts';
import { viewOf } from '../../shared/sync/log-view.ts';
import { type Response, readAnswer } from '../../shared/sync/read-answer.ts';
import { idOf, type Link, TestChain } from './chains.ts';
import { engines } from './engines.ts';
import { Served } from './served.ts';

const casting = idOf('casting of machines');

/** The machine of a tablet over a real log, with the server called without a network. */
class MachineTablet {
  readonly log = new Log(casting);
  readonly requests: Request['to'][] = [];
  bytesDown = 0;
  private state = startState();

  constructor(
    readonly device: string,
    private readonly served: Served,
    private readonly headers: { authorization: string },
  ) {}

  keep(lines: readonly Pick<Link, 'text'>[]): void {
    for (const { text } of lines) {
      const read = readEntry(text, casting);
      if ('fault' in read) throw new Error(read.fault);
      this.log.add(read.entry, read.hash, 'none');
    }
  }

  /** One pass, and those that it asks for itself, until it rests. */
  async sync(): Promise<string> {
    const events: SyncEvent[] = [{ on: 'start' }];
    for (let event = events.shift(); event; event = events.shift()) {
      const settings = { casting, device: this.device, poll_ms: null, mostTaken: 100_000, read: readEntry };
      const { state, effects } = step(this.state, event, { settings, view: viewOf(this.log), random: () => 0 });
      this.state = state;
      for (const effect of effects) {
        if (effect.do === 'ask') {
          const answer = readAnswer(effect.what.to, await this.ask(effect.what))!;
          events.push({ on: 'answer', request: effect.request, answer });
        } else if (effect.do === 'take') {
          this.keep(effect.entries);
          events.push({ on: 'taken', request: effect.request });
        }
      }
    }
    return this.state.phase.at === 'waiting' ? this.state.phase.why : this.state.phase.at;
  }

  private async ask(what: Request): Promise<Response> {
    this.requests.push(what.to);
    const { app } = this.served;
    if (what.to === 'push') {
      const headers = { ...this.headers, 'content-type': 'application/gzip' };
      const answer = await app.inject({ method: 'POST', url: '/sync/entries', headers, payload: gzipSync(what.text) });
      return { status: answer.statusCode, text: answer.body };
    }
    if (what.to === 'heads') {
      const answer = await app.inject({ url: '/sync/heads', headers: this.headers });
      return { status: answer.statusCode, text: answer.body };
    }
    const without = what.without === null ? '' : `&without=${what.without}`;
    const answer = await app.inject({ url: `/sync/entries?after=${what.after}${without}`, headers: this.headers });
    this.bytesDown += answer.rawPayload.length;
    const text = answer.statusCode === 200 ? gunzipSync(answer.rawPayload).toString() : answer.body;
    const [last, count] = ['arrival-last', 'arrival-count'].map((name) => answer.headers[name] as string);
    return { status: answer.statusCode, text, last: last!, count: count! };
  }
}

describe.each(engines())('machines of tablets and the server, on $name', (engine) => {
  let served: Served;
  const chains = ['one', 'two', 'three'].map((name) => new TestChain(casting, name));
  const tablets: MachineTablet[] = [];
  beforeAll(async () => {
    await engine.start();
    served = await Served.on(engine, { MAX_BATCH_ENTRIES: '400', REQUESTS_PER_MINUTE: '100000' });
    for (const { device } of chains)
      tablets.push(new MachineTablet(device, served, await served.joined(casting, device)));
  });
  afterAll(async () => {
    await served.close();
    await engine.stop();
  });
  const [one, two, three] = [0, 1, 2].map((i) => () => tablets[i]!);

  it('bring two tablets with a thousand entries each to the same heads', async () => {
    one!().keep(chains[0]!.grow(1000));
    two!().keep(chains[1]!.grow(1000));
    expect([await one!().sync(), await two!().sync(), await one!().sync()]).toEqual(['idle', 'idle', 'idle']);
    expect(one!().log.size).toBe(2000);
    expect(two!().log.heads()).toEqual(one!().log.heads());
  });

  it('carry ten new entries in two requests each, however long the log is', async () => {
    for (const tablet of tablets) tablet.requests.length = 0;
    one!().keep(chains[0]!.grow(10));
    expect([await one!().sync(), await two!().sync()]).toEqual(['idle', 'idle']);
    expect([one!().requests, two!().requests]).toEqual([
      ['heads', 'push'],
      ['heads', 'pull'],
    ]);
    expect(two!().log.heads()).toEqual(one!().log.heads());
    const { bytesDown } = two!();
    one!().keep(chains[0]!.grow(10));
    await one!().sync();
    await two!().sync();
    expect(two!().bytesDown - bytesDown).toBeLessThan(2_500);
  });

  it('bring both branches of a copied tablet to all', async () => {
    const copy = chains[2]!.forkedAfter(0);
    three!().keep(chains[2]!.grow(5));
    expect(await three!().sync()).toBe('idle');
    const copied = new MachineTablet(copy.device, served, await served.joined(casting, copy.device));
    copied.keep(copy.grow(3, 'Written on the copy'));
    expect(await copied.sync()).toBe('idle');
    for (const tablet of tablets) expect(await tablet.sync()).toBe('idle');
    expect(new Set([copied, ...tablets].map((t) => t.log.size))).toEqual(new Set([2028]));
    expect(tablets.map((t) => t.log.forkOf(copy.device))).toEqual([1, 1, 1]);
  });

  it('say that a tablet must join anew when its token is not good', async () => {
    const stranger = new MachineTablet(idOf('stranger'), served, { authorization: `Bearer ${'A'.repeat(43)}` });
    expect(await stranger.sync()).toBe('bad-token');
  });
});
