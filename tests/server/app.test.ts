import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { engines } from './engines.ts';
import { Served } from './served.ts';

describe('the app that the server serves', () => {
  const folder = mkdtempSync(join(tmpdir(), 'lehrbook-server-'));
  const [sqlite] = engines();
  let served: Served;
  let app: FastifyInstance;

  beforeAll(async () => {
    mkdirSync(join(folder, 'assets'));
    writeFileSync(join(folder, 'index.html'), '<title>the app</title>');
    writeFileSync(join(folder, 'sw.js'), '// worker');
    writeFileSync(join(folder, 'assets', 'index-1.js'), '// code');
    served = await Served.on(sqlite!, {}, folder);
    app = served.app;
  });
  afterAll(async () => {
    await served.close();
    await sqlite!.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  it.each(['/', '/sequence/5.1', '/survey/5.1/tub-diameter-20?station=7.5%4040', '/hold/H03'])(
    'gives the app at %s',
    async (url) => {
      const answer = await app.inject({ url });
      expect([answer.statusCode, answer.body]).toEqual([200, '<title>the app</title>']);
      expect(answer.headers['cache-control']).toBe('no-cache');
    },
  );

  it.each(['/assets/none-1.js', '/none.svg', '/assets/'])(
    'gives 404 for the file %s that is not there',
    async (url) => {
      expect((await app.inject({ url })).statusCode).toBe(404);
    },
  );

  it('gives no file from outside its folder', async () => {
    for (const url of ['/../package.json', '/..%2fpackage.json', '/assets/..%2f..%2fpackage.json']) {
      expect((await app.inject({ url })).body).not.toContain('"name"');
    }
  });

  it('takes no other method than GET', async () => {
    expect((await app.inject({ method: 'POST', url: '/sequence' })).statusCode).toBe(404);
  });

  it('lets hashed files be kept for ever, and the worker asked for anew', async () => {
    expect((await app.inject({ url: '/assets/index-1.js' })).headers['cache-control']).toContain('immutable');
    expect((await app.inject({ url: '/sw.js' })).headers['cache-control']).toBe('no-cache');
  });

  it('sends a strict content policy and security headers with every answer', async () => {
    for (const url of ['/', '/sequence/5.1', '/none.svg']) {
      const { headers } = await app.inject({ url });
      expect(headers['content-security-policy']).toMatch(/default-src 'none'; script-src 'self'; style-src 'self'/);
      expect(headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'referrer-policy': 'no-referrer' });
    }
  });
});
