import type { Kind } from '../../../shared/logbook/kinds.ts';
import type { Outline } from '../../../shared/logbook/outline.ts';

/** Made of the sources that work outlines out: what another build worked out is worked out anew. */
declare const __FOLD__: string;

/** The outlines of a segment's lines, column by column; hashes and signatures stand in the segment itself. */
export interface OutlineColumns {
  readonly build: string;
  readonly devices: readonly string[];
  readonly device: Uint16Array<ArrayBuffer>;
  readonly seq: Uint32Array<ArrayBuffer>;
  /** Where the entry before stands: its line, counted from 1; 0 where it is in `prevs`. */
  readonly before: Uint16Array<ArrayBuffer>;
  /** By line, the hash before that is not that of a line here. */
  readonly prevs: ReadonlyMap<number, string | null>;
  readonly seen: ReadonlyMap<number, Outline['seen']>;
  /** Kinds that occur; a line has one by its place, counted from 1, or 0 where this build cannot read it. */
  readonly kinds: readonly Kind[];
  readonly kind: Uint8Array<ArrayBuffer>;
  /** Scopes that occur, those of each line one after the other, and where each line's end. */
  readonly scopes: readonly string[];
  readonly scope: Uint16Array<ArrayBuffer>;
  readonly scopeEnds: Uint16Array<ArrayBuffer>;
}

/** Lines of a segment whose outlines are kept; places in the columns have 16 bits. */
export const OUTLINED_MOST = 10_000;

export function packOutlines(outlines: readonly Outline[]): OutlineColumns {
  const devices = new Places<string>();
  const kinds = new Places<Kind>();
  const scopes = new Places<string>();
  const lineOf = new Map(outlines.map(({ hash }, i) => [hash, i + 1]));
  const before = (prev: string | null) => (prev === null ? 0 : (lineOf.get(prev) ?? 0));
  const columns = {
    build: __FOLD__,
    devices: devices.values,
    device: new Uint16Array(outlines.length),
    seq: new Uint32Array(outlines.length),
    before: new Uint16Array(outlines.length),
    prevs: new Map<number, string | null>(),
    seen: new Map<number, Outline['seen']>(),
    kinds: kinds.values,
    kind: new Uint8Array(outlines.length),
    scopes: scopes.values,
    scopeEnds: new Uint16Array(outlines.length),
  };
  const scope: number[] = [];
  outlines.forEach((o, i) => {
    const line = before(o.prev);
    columns.device[i] = devices.of(o.device);
    columns.seq[i] = o.seq;
    columns.before[i] = line;
    if (line === 0) columns.prevs.set(i, o.prev);
    if (Object.keys(o.seen).length > 0) columns.seen.set(i, o.seen);
    columns.kind[i] = o.kind === null ? 0 : kinds.of(o.kind) + 1;
    for (const name of o.scopes) scope.push(scopes.of(name));
    columns.scopeEnds[i] = scope.length;
  });
  return { ...columns, scope: Uint16Array.from(scope) };
}

/** Whether this build worked the outlines out. */
export const isOfThisBuild = (columns: OutlineColumns | undefined): columns is OutlineColumns =>
  columns?.build === __FOLD__;

const NONE_SEEN: Outline['seen'] = {};

/** The outline of each line, in their order. */
export function unpackOutlines(
  columns: OutlineColumns,
  hashes: readonly string[],
  signatureOf: (line: number) => Outline['signature'],
): Outline[] {
  const { devices, device, seq, before, prevs, seen, kinds, kind, scopes, scope, scopeEnds } = columns;
  const outlines: Outline[] = [];
  let at = 0;
  for (let i = 0; i < hashes.length; i++) {
    const names: string[] = [];
    for (const end = scopeEnds[i]!; at < end; at++) names.push(scopes[scope[at]!]!);
    outlines.push({
      hash: hashes[i]!,
      signature: signatureOf(i),
      device: devices[device[i]!]!,
      seq: seq[i]!,
      prev: before[i] === 0 ? (prevs.get(i) ?? null) : hashes[before[i]! - 1]!,
      seen: seen.get(i) ?? NONE_SEEN,
      kind: kind[i] === 0 ? null : kinds[kind[i]! - 1]!,
      scopes: names,
    });
  }
  return outlines;
}

/** Gives each value its place at its first coming. */
class Places<T> {
  readonly values: T[] = [];
  private readonly found = new Map<T, number>();

  of(value: T): number {
    const place = this.found.get(value) ?? this.values.push(value) - 1;
    this.found.set(value, place);
    return place;
  }
}
