import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { idOf } from './chains.ts';
import { engines } from './engines.ts';
import { Served } from './served.ts';

const hashOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');
const photo = (size: number, first: number) =>
  Buffer.from(Array.from({ length: size }, (_, i) => (first + i * 7) % 251));
const codeOf = (answer: { body: string }) => JSON.parse(answer.body).error.code;

describe.each(engines())('photos over HTTP, on $name', (engine) => {
  let served: Served;
  let ours: { authorization: string };
  let theirs: { authorization: string };
  beforeAll(async () => {
    await engine.start();
    served = await Served.on(engine, { MAX_BLOB_BYTES: '300000', MAX_BODY_BYTES: '100000' });
    ours = await served.joined(idOf('casting'), idOf('tablet'));
    theirs = await served.joined(idOf('other casting'), idOf('tablet'));
  });
  afterAll(async () => {
    await served?.close();
    await engine.stop();
  });

  const put = (name: string, body: Buffer, range?: string, headers: Record<string, string> = ours) =>
    served.app.inject({
      method: 'PUT',
      url: `/sync/blobs/${name}`,
      headers: { ...headers, 'content-type': 'application/octet-stream', ...(range ? { 'content-range': range } : {}) },
      payload: body,
    });
  const get = (name: string, range?: string, headers = ours) =>
    served.app.inject({ url: `/sync/blobs/${name}`, headers: { ...headers, ...(range ? { range } : {}) } });
  const head = (name: string) => served.app.inject({ method: 'HEAD', url: `/sync/blobs/${name}`, headers: ours });

  it('go up in parts, are taken up where they were, and come down from any byte', async () => {
    const bytes = photo(250_000, 1);
    const name = hashOf(bytes);
    expect((await head(name)).statusCode).toBe(404);
    await put(name, bytes.subarray(0, 100_000), 'bytes 0-99999/250000');
    expect((await head(name)).headers).toMatchObject({ 'upload-offset': '100000', 'upload-complete': '?0' });
    expect((await get(name)).statusCode).toBe(404);
    await put(name, bytes.subarray(100_000, 200_000), 'bytes 100000-199999/250000');
    const last = await put(name, bytes.subarray(200_000), 'bytes 200000-249999/250000');
    expect(last.json()).toEqual({ size: 250_000, here: 250_000, complete: true });
    const whole = await get(name);
    expect([whole.statusCode, hashOf(whole.rawPayload)]).toEqual([200, name]);
    expect(whole.headers['content-disposition']).toBe('attachment');
    const rest = await get(name, 'bytes=249000-');
    expect([rest.statusCode, rest.headers['content-range']]).toEqual([206, 'bytes 249000-249999/250000']);
    expect(rest.rawPayload).toEqual(bytes.subarray(249_000));
  });

  it('come only to tablets of their casting', async () => {
    const bytes = photo(1000, 2);
    await put(hashOf(bytes), bytes);
    expect((await get(hashOf(bytes), undefined, theirs)).statusCode).toBe(404);
  });

  it.each([
    '..%2f..%2flehrbook.sqlite',
    '..%5c..%5cwindows',
    'a'.repeat(63),
    'a'.repeat(65),
    `${'a'.repeat(64)}/..`,
    `${'a'.repeat(64)}%00.png`,
    'A'.repeat(64),
    `./${'a'.repeat(62)}`,
    '',
    'photo.jpg',
  ])('are named by 64 hex digits, not by %j', async (name) => {
    for (const answer of [await put(name, photo(10, 3)), await get(name)]) {
      expect([answer.statusCode, answer.body.includes('<html')]).toEqual([
        expect.toSatisfy((s) => s >= 400 && s < 500),
        false,
      ]);
    }
  });

  it('are refused with a code of the table when their name is a trick', async () => {
    const answer = await put('..%2f..%2flehrbook.sqlite', photo(10, 3));
    expect([answer.statusCode, codeOf(answer)]).toEqual([400, 'blob-name']);
  });

  it('are refused when they are not what their name says, and leave nothing', async () => {
    const bytes = photo(1000, 4);
    const answer = await put(hashOf(photo(1000, 5)), bytes);
    expect([answer.statusCode, codeOf(answer)]).toEqual([422, 'blob-hash']);
    expect((await head(hashOf(photo(1000, 5)))).statusCode).toBe(404);
  });

  it.each([
    ['bytes 0-98/100', 'blob-range'],
    ['bytes 0-99/99', 'blob-range'],
    ['bytes 99-0/100', 'blob-range'],
    ['bytes */100', 'blob-range'],
    ['lines 0-99/100', 'blob-range'],
    ['bytes 100-199/1000', 'blob-gap'],
    ['bytes 0-99/300001', 'blob-too-large'],
  ])('are refused with the range %s', async (range, code) => {
    const bytes = photo(100, 6);
    const answer = await put(hashOf(bytes), bytes, range);
    expect([answer.statusCode >= 400 && answer.statusCode < 500, codeOf(answer)]).toEqual([true, code]);
  });

  it('say how far they are when a part leaves a gap', async () => {
    const bytes = photo(1000, 7);
    await put(hashOf(bytes), bytes.subarray(0, 400), 'bytes 0-399/1000');
    expect((await put(hashOf(bytes), bytes.subarray(500), 'bytes 500-999/1000')).json()).toEqual({
      error: { code: 'blob-gap', here: 400 },
    });
  });

  it('take one part up to the body limit and no byte more', async () => {
    const bytes = photo(100_001, 8);
    const over = await put(hashOf(bytes), bytes);
    expect([over.statusCode, codeOf(over)]).toEqual([413, 'body-too-large']);
    expect((await put(hashOf(bytes), bytes.subarray(0, 100_000), 'bytes 0-99999/100001')).statusCode).toBe(200);
  });

  it('are not taken as anything but bytes', async () => {
    const answer = await served.app.inject({
      method: 'PUT',
      url: `/sync/blobs/${'a'.repeat(64)}`,
      headers: ours,
      payload: { a: 'photo' },
    });
    expect([answer.statusCode, codeOf(answer)]).toEqual([415, 'media-type']);
  });
});
