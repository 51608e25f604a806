import { once } from 'node:events';
import { type IncomingMessage, request } from 'node:http';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answerKeeper } from '../../src/cli/keeper.ts';
import { openDatabase } from '../../src/server/database/open-database.ts';
import { batchText, linesOf, zipped } from './batches.ts';
import { idOf, type Link, TestChain } from './chains.ts';
import { engines, settingsOf } from './engines.ts';
import { TestServer } from './test-server.ts';

const casting = idOf('casting');

interface Answer {
  readonly status: number;
  readonly body: Buffer;
  readonly code: string | undefined;
}

async function read(answer: IncomingMessage): Promise<Answer> {
  const parts: Buffer[] = [];
  for await (const part of answer) parts.push(part as Buffer);
  const body = Buffer.concat(parts);
  const isJson = answer.headers['content-type']?.includes('json') ?? false;
  return { status: answer.statusCode!, body, code: isJson ? JSON.parse(body.toString()).error?.code : undefined };
}

describe.each(engines())('what must not get in, on $name', (engine) => {
  let world: Record<string, string>;
  let server: TestServer;
  const bearers: Record<string, string> = {};
  const good = new TestChain(casting, 'tablet');

  const call = async (
    method: string,
    path: string,
    headers: Record<string, string | number>,
    send: (to: ReturnType<typeof request>) => void = (to) => to.end(),
  ): Promise<Answer> => {
    const to = request({ host: '127.0.0.1', port: server.port, method, path, headers });
    // A server that has refused a body may close while the rest is on its way.
    to.on('error', () => {});
    send(to);
    const [answer] = (await once(to, 'response')) as [IncomingMessage];
    return read(answer);
  };
  const push = (body: Buffer, bearer = bearers.good!) =>
    call(
      'POST',
      '/sync/entries',
      { authorization: bearer, 'content-type': 'application/gzip', 'content-length': body.length },
      (to) => to.end(body),
    );
  const keeper = async (...words: string[]) => {
    const database = await openDatabase(settingsOf(world));
    try {
      return await answerKeeper(words, { database, settings: settingsOf(world), now: Date.now() });
    } finally {
      await database.close();
    }
  };
  const joined = async (code: string, device: string, to = casting): Promise<string> => {
    const payload = JSON.stringify({ code, casting: to, device });
    const { status, body } = await call('POST', '/sync/join', { 'content-type': 'application/json' }, (req) =>
      req.end(payload),
    );
    expect(status).toBe(200);
    return `Bearer ${JSON.parse(body.toString()).token}`;
  };
  const kept = async () => linesOf((await call('GET', '/sync/entries?after=0', { authorization: bearers.good! })).body);
  const textOf = (links: readonly Link[]) => links.map((l) => l.text);

  beforeAll(async () => {
    await engine.start();
    world = await engine.emptyWorld();
    server = await TestServer.start({ world, settings: { LOG_LEVEL: 'info' } });
    bearers.good = await joined(await server.firstCode(), idOf('tablet'));
    expect((await push(zipped(batchText(good.grow(20))))).status).toBe(200);
    bearers.revoked = await joined((await keeper('code'))[0]!, idOf('lost tablet'));
    await keeper('revoke', '2');
    bearers.other = await joined((await keeper('code', 'new'))[0]!, idOf('tablet'), idOf('other casting'));
  });
  afterAll(async () => {
    await server?.kill();
    await engine.stop();
  });

  const fresh = new TestChain(casting, 'sender');
  const next = fresh.grow(3);
  const theirs = new TestChain(idOf('other casting'), 'sender').grow(3);
  const whole = zipped(batchText(next));
  const changed = next.map((l, i) => (i === 2 ? { ...l, text: l.text.replace('Turned', 'Burned') } : l));

  const batches: [string, number, string, () => Promise<Answer>][] = [
    ['a truncated gzip', 400, 'bad-gzip', () => push(whole.subarray(0, -30))],
    ['a gzip without its end', 400, 'bad-gzip', () => push(whole.subarray(0, -1))],
    ['no gzip at all', 400, 'bad-gzip', () => push(Buffer.from(batchText(next)))],
    ['nothing', 400, 'bad-gzip', () => push(Buffer.alloc(0))],
    ['a gzip bomb', 413, 'batch-too-large', () => push(gzipSync(Buffer.alloc(100_000_000, 'a'), { level: 9 }))],
    [
      'more entries than a batch may hold',
      413,
      'batch-too-large',
      () => push(zipped(batchText(next, { entries: 5001 }))),
    ],
    ['a batch with fewer entries than it says', 400, 'bad-batch', () => push(zipped(batchText(next, { entries: 4 })))],
    [
      'a batch cut at a line',
      400,
      'bad-batch',
      () => push(zipped(batchText(next).split('\n').slice(0, -2).join('\n'))),
    ],
    ['a batch that is not text', 400, 'bad-batch', () => push(gzipSync(Buffer.from([0xc3, 0x28, 0x0a])))],
    [
      'a wrong hash in the heads',
      422,
      'wrong-hash',
      () => push(zipped(batchText(next, { heads: { [fresh.device]: [[3, 'f'.repeat(64)]] } }))),
    ],
    ['an entry that was changed', 422, 'wrong-hash', () => push(zipped(batchText(next).replace('Turned', 'Burned')))],
    [
      'a last entry that was changed',
      422,
      'wrong-hash',
      () => push(zipped(batchText(next).replace(next[2]!.text, changed[2]!.text))),
    ],
    [
      'an entry that is not canonical',
      422,
      'refused-entry',
      () => push(zipped(batchText(next).replace('{"body"', '{ "body"'))),
    ],
    ['an entry that hangs in the air', 409, 'gap', () => push(zipped(batchText(next.slice(1))))],
    ["another casting's entries", 403, 'other-casting', () => push(zipped(batchText(theirs)))],
    ["another casting's token", 403, 'other-casting', () => push(whole, bearers.other)],
    ['a wrong token', 401, 'bad-token', () => push(whole, `Bearer ${'A'.repeat(43)}`)],
    ['a revoked token', 401, 'bad-token', () => push(whole, bearers.revoked)],
    [
      'a body of 100 MB, announced',
      413,
      'body-too-large',
      () =>
        call(
          'POST',
          '/sync/entries',
          { authorization: bearers.good!, 'content-type': 'application/gzip', 'content-length': 100_000_000 },
          (to) => to.write(Buffer.alloc(100_000)),
        ),
    ],
    [
      'a body of 100 MB that is not announced',
      413,
      'body-too-large',
      () =>
        call('POST', '/sync/entries', { authorization: bearers.good!, 'content-type': 'application/gzip' }, (to) => {
          for (let sent = 0; sent < 100; sent++) to.write(Buffer.alloc(1_000_000));
          to.end();
        }),
    ],
    [
      'an entry of text that is no gzip by its own word',
      415,
      'media-type',
      () =>
        call('POST', '/sync/entries', { authorization: bearers.good!, 'content-type': 'application/x-other' }, (to) =>
          to.end('{}'),
        ),
    ],
    [
      'a page from where nothing is',
      400,
      'bad-request',
      () => call('GET', '/sync/entries?after=-1', { authorization: bearers.good! }),
    ],
  ];

  it.each(batches)('refuses %s with %i %s, and the log is unharmed', async (_name, status, code, send) => {
    const answer = await send();
    expect([answer.status, answer.code]).toEqual([status, code]);
    expect(await kept()).toEqual(textOf(good.links));
    expect((await call('GET', '/health', {})).status).toBe(200);
  });

  it.each([
    '/sync/blobs/../../lehrbook.sqlite',
    '/sync/blobs/../../../../etc/passwd',
    '/sync/blobs/%2e%2e/%2e%2e/etc/passwd',
    '/sync/blobs/..%2f..%2f..%2fetc%2fpasswd',
    '/sync/blobs/....//....//etc/passwd',
    '/sync/blobs//etc/passwd',
    `/sync/blobs/${'a'.repeat(64)}/../../../etc/passwd`,
    `/sync/blobs/${'a'.repeat(64)}%00`,
    '/sync/blobs/C:%5cwindows%5csystem.ini',
  ])('refuses the photo name in %s, as it is sent on the wire', async (path) => {
    for (const method of ['GET', 'PUT'] as const) {
      const answer = await call(
        method,
        path,
        { authorization: bearers.good!, 'content-type': 'application/octet-stream' },
        (to) => to.end(method === 'PUT' ? 'photo' : undefined),
      );
      expect([answer.status >= 400 && answer.status < 500, answer.code]).toEqual([true, 'blob-name']);
    }
  });

  it('takes the same entries afterwards from who may bring them', async () => {
    expect((await push(whole)).status).toBe(200);
    expect(await kept()).toEqual([...textOf(good.links), ...textOf(next)]);
  });

  it('writes none of what was sent into its log', async () => {
    const { errors } = server;
    expect(errors).toContain('"code":"bad-gzip"');
    for (const secret of [bearers.good!.slice(7), bearers.revoked!.slice(7), 'Turned', 'passwd', '127.0.0.1"', casting])
      expect(errors).not.toContain(secret);
    expect(errors).not.toContain('"level":50');
  });
});
