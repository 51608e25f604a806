import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { randomOf } from '../../shared/practice/random.ts';
import { join, makeCode } from '../../src/server/access.ts';
import { openDatabase } from '../../src/server/database/open-database.ts';
import { batchText, linesOf, zipped } from './batches.ts';
import { idOf, type Link, TestChain } from './chains.ts';
import { engines, settingsOf } from './engines.ts';
import { TestServer } from './test-server.ts';

const casting = idOf('casting');
const TABLETS = 4;
const PUSHES = 25;
const KILLS = 6;

/** Server processes over one world that are killed and started again at their old addresses. */
class Servers {
  private running: Promise<TestServer>[] = [];
  kills = 0;

  constructor(private readonly world: Record<string, string>) {}

  async start(count: number): Promise<void> {
    for (let i = 0; i < count; i++) this.running.push(TestServer.start({ world: this.world }));
    await Promise.all(this.running);
  }

  get count(): number {
    return this.running.length;
  }

  /** The address of one, once it is up. */
  address = async (which: number): Promise<string> => (await this.running[which % this.count]!).address;

  kill(which: number): void {
    const index = which % this.count;
    const victim = this.running[index]!;
    this.kills += 1;
    this.running[index] = victim.then(async (server) => {
      await server.kill();
      return TestServer.start({ world: this.world, port: server.port });
    });
  }

  async end(): Promise<void> {
    for (const server of await Promise.all(this.running)) await server.kill();
  }
}

/** A tablet that writes and pushes, and sends the same again until it has an answer. */
class PushingTablet {
  readonly chain: TestChain;
  readonly acknowledged: Link[] = [];
  unanswered = 0;

  constructor(
    private readonly number: number,
    readonly bearer: string,
    private readonly servers: Servers,
  ) {
    this.chain = new TestChain(casting, `tablet ${number}`);
  }

  /** @param whileSent is called when the request is on its way and not answered */
  async push(entries: number, whileSent: () => void): Promise<void> {
    const links = this.chain.grow(entries);
    for (let attempt = this.number; ; attempt++) {
      const sending = this.send(await this.servers.address(attempt), links);
      if (attempt === this.number) whileSent();
      if (await sending) break;
      this.unanswered += 1;
    }
    this.acknowledged.push(...links);
  }

  private async send(address: string, links: readonly Link[]): Promise<boolean> {
    const answer = await fetch(`${address}/sync/entries`, {
      method: 'POST',
      headers: { authorization: this.bearer, 'content-type': 'application/gzip' },
      body: new Uint8Array(zipped(batchText(links))),
    }).catch(() => null);
    if (answer && answer.status !== 200) throw new Error(`Refused: ${answer.status} ${await answer.text()}`);
    // Only an answer that came whole is an acknowledgement.
    return answer !== null && (await answer.json().catch(() => null)) !== null;
  }
}

describe.each(engines())('a server that is killed in the middle of pushes, on $name', (engine) => {
  let servers: Servers;
  let tablets: PushingTablet[];
  beforeAll(async () => {
    await engine.start();
    const world = await engine.emptyWorld();
    const database = await openDatabase(settingsOf(world));
    servers = new Servers(world);
    tablets = [];
    for (let i = 0; i < TABLETS; i++) {
      const code = await makeCode(database.db, casting, 60, Date.now());
      const joined = await join(database.db, { code, casting, device: idOf(`tablet ${i}`) }, Date.now());
      tablets.push(new PushingTablet(i, `Bearer ${joined!.token}`, servers));
    }
    await database.close();
    await servers.start(engine.shared ? 2 : 1);
  });
  afterAll(async () => {
    await servers?.end();
    await engine.stop();
  });

  it('loses nothing that it acknowledged, and doubles nothing', async () => {
    let begun = 0;
    const between = Math.floor((TABLETS * PUSHES) / (KILLS + 1));
    await Promise.all(
      tablets.map(async (tablet, i) => {
        const random = randomOf('killed', `${engine.name} ${i}`);
        for (let n = 0; n < PUSHES; n++) {
          await tablet.push(1 + Math.floor(random.uniform() * 60), () => {
            begun += 1;
            if (begun % between === 0 && servers.kills < KILLS) servers.kill(servers.kills);
          });
        }
      }),
    );
    expect(servers.kills).toBe(KILLS);
    // The kills met pushes that were under way; else this test would show nothing.
    expect(tablets.reduce((sum, t) => sum + t.unanswered, 0)).toBeGreaterThanOrEqual(KILLS);
    for (let which = 0; which < servers.count; which++) {
      const kept = await everything(await servers.address(which), tablets[0]!);
      const written = tablets.flatMap((t) => t.acknowledged.map((l) => l.text));
      expect([...kept].sort()).toEqual([...written].sort());
    }
  });

  it('gives every tablet the same heads afterwards', async () => {
    const heads = await (
      await fetch(`${await servers.address(0)}/sync/heads`, { headers: headersOf(tablets[1]!) })
    ).json();
    expect(heads).toEqual(
      Object.fromEntries(tablets.map(({ chain }) => [chain.device, [[chain.links.length, chain.links.at(-1)!.hash]]])),
    );
  });
});

const headersOf = (tablet: PushingTablet) => ({ authorization: tablet.bearer });

async function everything(address: string, tablet: PushingTablet): Promise<string[]> {
  const lines: string[] = [];
  for (let after = '0'; ; ) {
    const page = await fetch(`${address}/sync/entries?after=${after}`, { headers: headersOf(tablet) });
    lines.push(...linesOf(Buffer.from(await page.arrayBuffer())));
    after = page.headers.get('arrival-last')!;
    if (after === page.headers.get('arrival-count')) return lines;
  }
}
