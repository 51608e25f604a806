import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { admissions, makeCode, revoke } from '../../src/server/access.ts';
import { idOf } from './chains.ts';
import { engines } from './engines.ts';
import { Served } from './served.ts';

const casting = idOf('casting');
const device = idOf('tablet');
const blob = `/sync/blobs/${'0'.repeat(64)}`;
const codeOf = (answer: { body: string }) => JSON.parse(answer.body).error.code;

describe('the door of the server', () => {
  const [sqlite] = engines();
  let served: Served;
  beforeEach(async () => {
    served = await Served.on(sqlite!, { JOINS_PER_MINUTE: '5', REQUESTS_PER_MINUTE: '20' });
    return () => served.close();
  });
  beforeAll(() => sqlite!.start());
  afterAll(() => sqlite!.stop());

  const join = (payload: object) => served.app.inject({ method: 'POST', url: '/sync/join', payload });
  const ask = (headers: Record<string, string>) => served.app.inject({ url: blob, headers });

  it('opens to a one-time code, once', async () => {
    const code = await makeCode(served.database.db, null, 60, served.now);
    const joined = await join({ code, casting, device });
    expect(joined.statusCode).toBe(200);
    expect(joined.headers['cache-control']).toBe('no-store');
    expect((await ask({ authorization: `Bearer ${joined.json().token}` })).statusCode).toBe(404);
    const again = await join({ code, casting, device });
    expect([again.statusCode, codeOf(again)]).toEqual([403, 'wrong-code']);
  });

  it('does not open to a code that has grown old', async () => {
    const code = await makeCode(served.database.db, null, 60, served.now);
    served.now += 60 * 60_000 + 1;
    expect(codeOf(await join({ code, casting, device }))).toBe('wrong-code');
  });

  it.each([
    {},
    { code: '' },
    { code: 'x', casting: '../etc', device },
    { code: 'x', casting, device, role: 'keeper' },
    { code: ['x'], casting, device },
  ])('refuses the request %j to join', async (payload) => {
    const answer = await join(payload);
    expect([answer.statusCode, codeOf(answer)]).toEqual([400, 'bad-request']);
  });

  it('lets codes be guessed a few times a minute only', async () => {
    for (let i = 0; i < 5; i++) expect(codeOf(await join({ code: `guess ${i}`, casting, device }))).toBe('wrong-code');
    const code = await makeCode(served.database.db, null, 60, served.now);
    const answer = await join({ code, casting, device });
    expect([answer.statusCode, codeOf(answer)]).toEqual([429, 'too-many-requests']);
    expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0);
  });

  it.each([
    [undefined, 'no-token'],
    ['Bearer ', 'no-token'],
    ['Basic Zm9vOmJhcg==', 'no-token'],
    ['Bearer made-up', 'bad-token'],
    [`Bearer ${'x'.repeat(43)}`, 'bad-token'],
    ["Bearer ' or 1=1", 'no-token'],
  ])('stays shut to the authorization %s', async (authorization, code) => {
    const answer = await ask(authorization === undefined ? {} : { authorization });
    expect([answer.statusCode, codeOf(answer)]).toEqual([401, code]);
  });

  it('shuts at once when a token is revoked, for that tablet alone', async () => {
    const [one, other] = [await served.joined(casting, device), await served.joined(casting, idOf('other'))];
    expect((await ask(one)).statusCode).toBe(404);
    await revoke(served.database.db, (await admissions(served.database.db))[0]!.id, served.now);
    expect(codeOf(await ask(one))).toBe('bad-token');
    expect((await ask(other)).statusCode).toBe(404);
  });

  it('counts the requests of each tablet by itself, and of all without a token by their address', async () => {
    const [one, other] = [await served.joined(casting, device), await served.joined(casting, idOf('other'))];
    for (let i = 0; i < 20; i++) expect((await ask(one)).statusCode).toBe(404);
    expect(codeOf(await ask(one))).toBe('too-many-requests');
    for (let i = 0; i < 20; i++) expect(codeOf(await ask({ authorization: `Bearer guess${i}` }))).toBe('bad-token');
    expect(codeOf(await ask({ authorization: 'Bearer guess20' }))).toBe('too-many-requests');
    expect((await ask(other)).statusCode).toBe(404);
  });

  it('logs what happened, and nothing of who or what', async () => {
    const headers = await served.joined(casting, device);
    await ask(headers);
    await ask({ authorization: 'Bearer a-token-of-mine' });
    await join({ code: 'MY-SECRET-CODE', casting, device });
    await served.app.inject({ url: '/record?search=Ada' });
    const lines = served.log.map((line) => JSON.parse(line));
    expect(lines.map(({ method, route, status, code, tablet }) => [method, route, status, code, tablet])).toEqual([
      ['GET', '/sync/blobs/*', 404, 'not-found', 1],
      ['GET', '/sync/blobs/*', 401, 'bad-token', undefined],
      ['POST', '/sync/join', 403, 'wrong-code', undefined],
      ['GET', 'none', 200, undefined, undefined],
    ]);
    const all = served.log.join('');
    for (const secret of [
      headers.authorization.slice(7),
      'a-token-of-mine',
      'MY-SECRET',
      '127.0.0.1',
      'Ada',
      casting,
      device,
    ])
      expect(all).not.toContain(secret);
  });

  it.each(['/sync', '/sync/none', '/sync/join'])('has no page of the app at %s', async (url) => {
    const answer = await served.app.inject({ url });
    expect([answer.statusCode, codeOf(answer)]).toEqual([404, 'not-found']);
  });

  it.each(['/%ff', '/sync/blobs/%', '/sync/%c0%ae%c0%ae/'])('refuses the address %s, which is no text', async (url) => {
    const answer = await served.app.inject({ url });
    expect([answer.statusCode, codeOf(answer)]).toEqual([400, 'bad-request']);
  });

  it('says whether it is well, and when its database is gone', async () => {
    expect((await served.app.inject({ url: '/health' })).json()).toEqual({ well: true });
    await served.database.close();
    const answer = await served.app.inject({ url: '/health' });
    expect([answer.statusCode, answer.json()]).toEqual([503, { well: false }]);
    expect(served.log.join('')).toContain('"fault"');
  });
});
