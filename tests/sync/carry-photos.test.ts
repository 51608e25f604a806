import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { randomOf } from '../../shared/practice/random.ts';
import {
  type BlobNamed,
  carryPhotos,
  type PhotoPort,
  PhotoRefused,
  type PhotoShelf,
} from '../../shared/sync/carry-photos.ts';
import type { SyncErrorCode } from '../../shared/sync/errors.ts';

type Bytes = Uint8Array<ArrayBuffer>;

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** A blob of so many bytes, drawn from a seed. */
function blob(size: number, seed: string): Bytes {
  const { uniform } = randomOf('carry photos', seed);
  return Uint8Array.from({ length: size }, () => Math.floor(uniform() * 256));
}

/** The server's rules of docs/sync.md, Photos, in memory; it shares no code with the real one. */
class FakeServer implements PhotoPort {
  readonly blobs = new Map<string, { size: number; bytes: Bytes; complete: boolean }>();
  readonly log: string[] = [];
  mostBytes = Number.POSITIVE_INFINITY;
  /** What befalls a request: lost on its way there, or its answer on the way back. */
  fate: (n: number) => 'lost' | 'unanswered' | SyncErrorCode | null = () => null;
  private n = 0;

  private async happen<T>(what: string, work: () => T): Promise<T> {
    const fate = this.fate(this.n++);
    this.log.push(what);
    if (fate === 'lost') throw new Error('no network');
    if (fate !== null && fate !== 'unanswered') throw new PhotoRefused(fate);
    const answer = work();
    if (fate === 'unanswered') throw new Error('no network');
    return answer;
  }

  state(hash: string) {
    return this.happen(`state ${hash.slice(0, 4)}`, () => this.there(hash));
  }

  put(hash: string, size: number, start: number, part: Bytes) {
    return this.happen(`put ${hash.slice(0, 4)} ${start}+${part.length}`, () => {
      if (part.length > this.mostBytes) throw new PhotoRefused('body-too-large');
      const found = this.blobs.get(hash) ?? { size, bytes: new Uint8Array(), complete: false };
      if (found.size !== size) throw new PhotoRefused('blob-size');
      if (start > found.bytes.length) throw new PhotoRefused('blob-gap');
      const bytes = new Uint8Array(Math.max(found.bytes.length, start + part.length));
      bytes.set(found.bytes);
      bytes.set(part, start);
      const complete = bytes.length === size;
      if (complete && sha256(bytes) !== hash) {
        this.blobs.delete(hash);
        throw new PhotoRefused('blob-hash');
      }
      this.blobs.set(hash, { size, bytes, complete });
      return this.there(hash)!;
    });
  }

  get(hash: string, from: number, to: number) {
    return this.happen(`get ${hash.slice(0, 4)} ${from}-${to}`, () => {
      const found = this.blobs.get(hash);
      return found?.complete ? found.bytes.slice(from, to) : null;
    });
  }

  private there(hash: string) {
    const found = this.blobs.get(hash);
    return found ? { here: found.bytes.length, complete: found.complete } : null;
  }
}

/** A tablet's shelf in memory, whose hashing is Node's. */
class FakeShelf implements PhotoShelf {
  readonly blobs = new Map<string, Bytes>();
  readonly sent = new Set<string>();
  readonly arriving = new Map<string, Bytes>();
  readonly wanted = new Map<string, BlobNamed>();

  keep(bytes: Bytes): string {
    const hash = sha256(bytes);
    this.blobs.set(hash, bytes);
    return hash;
  }

  want(hash: string, bytes: number, asked = false): void {
    this.wanted.set(hash, { hash, bytes, asked });
  }

  async unsent() {
    return [...this.blobs].filter(([h]) => !this.sent.has(h)).map(([hash, b]) => ({ hash, bytes: b.length }));
  }

  async lacking() {
    return [...this.wanted.values()].filter(({ hash }) => !this.blobs.has(hash));
  }

  async read(hash: string, from: number, to: number) {
    return this.blobs.get(hash)!.slice(from, to);
  }

  async markSent(hash: string) {
    this.sent.add(hash);
  }

  async arrived(hash: string) {
    return this.arriving.get(hash)?.length ?? 0;
  }

  async append(hash: string, from: number, part: Bytes) {
    const before = this.arriving.get(hash) ?? new Uint8Array();
    if (before.length !== from) throw new Error(`A part at ${from} does not go on from ${before.length}`);
    this.arriving.set(hash, Uint8Array.from([...before, ...part]));
  }

  async finish(hash: string) {
    const bytes = this.arriving.get(hash)!;
    this.arriving.delete(hash);
    if (sha256(bytes) !== hash) return false;
    this.blobs.set(hash, bytes);
    return true;
  }
}

const PART = { partBytes: 1000 };

describe('carrying photos', () => {
  it('sends what the server lacks and fetches what this tablet lacks, small ones first, in parts', async () => {
    const server = new FakeServer();
    const [a, b] = [new FakeShelf(), new FakeShelf()];
    const [large, small] = [a.keep(blob(2500, 'large')), a.keep(blob(300, 'small'))];
    expect(await carryPhotos(server, a, PART)).toEqual({ sent: 2, fetched: 0, refused: new Map(), broken: false });
    expect(server.log).toEqual([
      `state ${small.slice(0, 4)}`,
      `put ${small.slice(0, 4)} 0+300`,
      `state ${large.slice(0, 4)}`,
      `put ${large.slice(0, 4)} 0+1000`,
      `put ${large.slice(0, 4)} 1000+1000`,
      `put ${large.slice(0, 4)} 2000+500`,
    ]);
    server.log.length = 0;
    b.want(large, 2500);
    b.want(small, 300);
    expect(await carryPhotos(server, b, PART)).toMatchObject({ sent: 0, fetched: 2, broken: false });
    expect(server.log[0]).toBe(`get ${small.slice(0, 4)} 0-300`);
    expect(b.blobs.get(large)).toEqual(a.blobs.get(large));
    server.log.length = 0;
    await carryPhotos(server, a, PART);
    expect(server.log).toEqual([]);
  });

  it('brings one that somebody waits for before all others', async () => {
    const server = new FakeServer();
    const [a, b] = [new FakeShelf(), new FakeShelf()];
    const [large, small] = [a.keep(blob(2500, 'l')), a.keep(blob(300, 's'))];
    await carryPhotos(server, a, PART);
    server.log.length = 0;
    b.want(small, 300);
    b.want(large, 2500, true);
    await carryPhotos(server, b, PART);
    expect(server.log[0]).toBe(`get ${large.slice(0, 4)} 0-1000`);
  });

  it('goes on where it was, whichever request is lost, and on whichever way', async () => {
    for (const fate of ['lost', 'unanswered'] as const) {
      for (let broken = 0; broken < 10; broken++) {
        const server = new FakeServer();
        const [a, b] = [new FakeShelf(), new FakeShelf()];
        const hash = a.keep(blob(3500, 'whole'));
        b.want(hash, 3500);
        server.fate = (n) => (n === broken ? fate : null);
        const passes = [];
        for (let i = 0; i < 4; i++) passes.push(await carryPhotos(server, a, PART), await carryPhotos(server, b, PART));
        expect([b.blobs.get(hash), a.sent.has(hash)]).toEqual([a.blobs.get(hash), true]);
        expect(passes.filter((p) => p.broken).length).toBeLessThanOrEqual(1);
        // What had arrived is not carried again: at most the part whose answer was lost goes twice.
        const carried = server.log.filter((l) => /^(put|get)/.test(l)).length;
        expect(carried).toBeLessThanOrEqual(4 + 4 + 1 + passes.filter((p) => p.broken).length);
      }
    }
  });

  it('comes to its end on a network that loses every third request, drawn anew each time', async () => {
    const { uniform } = randomOf('carry photos', 'network');
    const server = new FakeServer();
    const shelves = [new FakeShelf(), new FakeShelf(), new FakeShelf()];
    const all = shelves.flatMap((shelf, i) =>
      Array.from({ length: 4 }, (_, j) => {
        const bytes = blob(200 + 900 * j, `${i} ${j}`);
        return { hash: shelf.keep(bytes), bytes: bytes.length };
      }),
    );
    for (const shelf of shelves) for (const { hash, bytes } of all) shelf.want(hash, bytes);
    server.fate = () => (uniform() < 1 / 3 ? (uniform() < 0.5 ? 'lost' : 'unanswered') : null);
    let passes = 0;
    const isDone = () => shelves.every((s) => s.blobs.size === all.length && s.sent.size >= 4);
    for (; passes < 500 && !isDone(); passes++) await carryPhotos(server, shelves[passes % 3]!, PART);
    expect(isDone()).toBe(true);
    for (const { hash } of all) for (const shelf of shelves) expect(sha256(shelf.blobs.get(hash)!)).toBe(hash);
  });

  it('keeps nothing that is not what its name says, and names it', async () => {
    const server = new FakeServer();
    const shelf = new FakeShelf();
    const hash = sha256(blob(500, 'true'));
    server.blobs.set(hash, { size: 500, bytes: blob(500, 'false'), complete: true });
    shelf.want(hash, 500);
    const { refused } = await carryPhotos(server, shelf, PART);
    expect([refused.get(hash), shelf.blobs.size, shelf.arriving.size]).toEqual(['spoiled', 0, 0]);
    server.log.length = 0;
    await carryPhotos(server, shelf, { ...PART, without: new Set([hash]) });
    expect(server.log).toEqual([]);
  });

  it('waits for one that its tablet has not brought yet', async () => {
    const server = new FakeServer();
    const shelf = new FakeShelf();
    shelf.want('e'.repeat(64), 500);
    expect(await carryPhotos(server, shelf, PART)).toMatchObject({ fetched: 0, refused: new Map(), broken: false });
  });

  it('sends smaller parts to a server that takes no larger ones', async () => {
    const server = new FakeServer();
    const shelf = new FakeShelf();
    const hash = shelf.keep(blob(70_000, 'many parts'));
    server.mostBytes = 20_000;
    expect(await carryPhotos(server, shelf, { partBytes: 65_536 })).toMatchObject({ sent: 1, broken: false });
    expect(server.blobs.get(hash)).toMatchObject({ complete: true });
  });

  it('takes larger parts of a large file, and leaves alone what is said to be larger than any', async () => {
    const server = new FakeServer();
    const shelf = new FakeShelf();
    shelf.keep(blob(64_000, 'a logger file'));
    await carryPhotos(server, shelf, PART);
    expect(server.log.filter((l) => l.startsWith('put'))).toHaveLength(16);
    shelf.want('d'.repeat(64), 1e12);
    const { refused } = await carryPhotos(server, shelf, PART);
    expect(refused.get('d'.repeat(64))).toBe('blob-too-large');
  });

  it.each([
    ['blob-too-large', false],
    ['blob-size', false],
    ['media-type', false],
    ['store-full', true],
    ['bad-token', true],
    ['too-many-requests', true],
  ] as const)('a refusal of %s: the others wait for it, %s', async (code, wait) => {
    const server = new FakeServer();
    const shelf = new FakeShelf();
    const first = shelf.keep(blob(100, 'refused'));
    const second = shelf.keep(blob(200, 'good'));
    server.fate = (n) => (n === 1 ? code : null);
    const { broken, refused } = await carryPhotos(server, shelf, PART);
    expect([broken, refused.get(first), shelf.sent.has(second)]).toEqual([wait, wait ? undefined : code, !wait]);
  });

  it('sends all of it again where the server dropped what had come', async () => {
    const server = new FakeServer();
    const shelf = new FakeShelf();
    const hash = shelf.keep(blob(2500, 'dropped'));
    server.fate = (n) => {
      // A restored backup, in the middle of it.
      if (n === 2) server.blobs.clear();
      return null;
    };
    expect(await carryPhotos(server, shelf, PART)).toMatchObject({ sent: 1, broken: false });
    expect(server.blobs.get(hash)).toMatchObject({ complete: true });
  });

  it('ends before the next part when it is told to', async () => {
    const server = new FakeServer();
    const shelf = new FakeShelf();
    const hash = shelf.keep(blob(2500, 'ended'));
    let asked = 0;
    const pass = await carryPhotos(server, shelf, { ...PART, stopped: () => ++asked > 2 });
    expect([pass.broken, server.blobs.get(hash)!.bytes.length]).toEqual([true, 1000]);
  });
});
