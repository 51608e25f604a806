/**
 * Unzips in one go, where an answer cannot wait for the browser's own streams: gzip (RFC 1952) of one member with deflate
 * (RFC 1951) in it. What it is given was unzipped whole, and hashed, before it was stored.
 */

const HEADER_BYTES = 10;
const TRAILER_BYTES = 8;
/** Header flags: what may stand between the header and the content. */
const HAS_HEADER_CRC = 2;
const HAS_EXTRA = 4;
const HAS_NAME = 8;
const HAS_COMMENT = 16;
const KNOWN_FLAGS = 31;

/** RFC 1951, 3.2.5: lengths and distances by code, and the bits that follow the code. */
const [LENGTHS, LENGTH_BITS] = steps(
  3,
  [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5],
);
const [DISTANCES, DISTANCE_BITS] = steps(
  1,
  Array.from({ length: 30 }, (_, code) => Math.max(0, (code >> 1) - 1)),
);
const LONGEST = 258;
const LENGTH_ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
const END = 256;
const MOST_BITS = 15;

/** By the next bits, as they come: the symbol of a code in the upper bits, its length in the lower four; 0 where there is none. */
interface Codes {
  readonly bits: number;
  readonly table: Uint16Array;
}

/** @throws {Error} when the bytes are no such gzip, end too early, or hold another length than they say. */
export function gunzip(gz: Uint8Array): Uint8Array<ArrayBuffer> {
  const view = new DataView(gz.buffer, gz.byteOffset, gz.byteLength);
  const at = contentStart(gz);
  const out = new Uint8Array(view.getUint32(gz.length - 4, true));
  const end = inflate(gz.subarray(at, gz.length - TRAILER_BYTES), out);
  if (end !== out.length) throw new Error(`${end} bytes in place of ${out.length}`);
  return out;
}

function contentStart(gz: Uint8Array): number {
  const flags = gz[3]!;
  const isGzip = gz.length >= HEADER_BYTES + TRAILER_BYTES && gz[0] === 0x1f && gz[1] === 0x8b && gz[2] === 8;
  if (!isGzip || flags > KNOWN_FLAGS) throw new Error('This is no gzip');
  let at = HEADER_BYTES;
  if (flags & HAS_EXTRA) at += 2 + gz[at]! + 256 * gz[at + 1]!;
  for (const flag of [HAS_NAME, HAS_COMMENT]) if (flags & flag) at = gz.indexOf(0, at) + 1;
  return flags & HAS_HEADER_CRC ? at + 2 : at;
}

/** @returns how many bytes were written */
function inflate(from: Uint8Array, out: Uint8Array): number {
  const bits = new Bits(from);
  let at = 0;
  for (let isLast = false; !isLast; ) {
    isLast = bits.take(1) === 1;
    const kind = bits.take(2);
    if (kind === 0) at = bits.copy(out, at);
    else if (kind === 1) at = inflateBlock(bits, out, at, fixed.literals, fixed.distances);
    else if (kind === 2) {
      const { literals, distances } = readCodes(bits);
      at = inflateBlock(bits, out, at, literals, distances);
    } else throw new Error('A block of an unknown kind');
  }
  return at;
}

function inflateBlock(bits: Bits, out: Uint8Array, start: number, literals: Codes, distances: Codes): number {
  let at = start;
  for (;;) {
    const symbol = bits.symbol(literals);
    if (symbol < END) {
      out[at++] = symbol;
      continue;
    }
    if (symbol === END) return at;
    const length = symbol === 285 ? LONGEST : LENGTHS[symbol - 257]! + bits.take(LENGTH_BITS[symbol - 257]!);
    const code = bits.symbol(distances);
    const distance = DISTANCES[code]! + bits.take(DISTANCE_BITS[code]!);
    if (!(distance <= at && at + length <= out.length)) throw new Error('A repeat of what is not there');
    // What is repeated may reach into the repeat itself.
    if (distance >= length) out.copyWithin(at, at - distance, at - distance + length);
    else for (let i = 0; i < length; i++) out[at + i] = out[at + i - distance]!;
    at += length;
  }
}

/** The bits of a text, the lowest of each byte first. */
class Bits {
  private at = 0;
  private held = 0;
  private count = 0;

  constructor(private readonly from: Uint8Array) {}

  take(bits: number): number {
    this.hold(bits);
    const value = this.held & ((1 << bits) - 1);
    this.drop(bits);
    return value;
  }

  symbol({ bits, table }: Codes): number {
    // The last code may be shorter than what is looked up.
    while (this.count < bits && this.at < this.from.length) this.next();
    const found = table[this.held & ((1 << bits) - 1)]!;
    const length = found & 15;
    if (length === 0 || length > this.count) throw new Error('A code that is none, or the end comes too early');
    this.drop(length);
    return found >>> 4;
  }

  /** A block that is not packed. */
  copy(out: Uint8Array, to: number): number {
    this.drop(this.count & 7);
    const length = this.take(16);
    const check = this.take(16);
    this.at -= this.count >> 3;
    this.held = 0;
    this.count = 0;
    const isWhole = this.at + length <= this.from.length && to + length <= out.length;
    if (length !== (~check & 0xffff) || !isWhole) throw new Error('A block that is not as long as it says');
    out.set(this.from.subarray(this.at, this.at + length), to);
    this.at += length;
    return to + length;
  }

  private hold(bits: number): void {
    while (this.count < bits) {
      if (this.at >= this.from.length) throw new Error('The end comes too early');
      this.next();
    }
  }

  private next(): void {
    this.held |= this.from[this.at++]! << this.count;
    this.count += 8;
  }

  private drop(bits: number): void {
    this.held >>>= bits;
    this.count -= bits;
  }
}

function readCodes(bits: Bits): { literals: Codes; distances: Codes } {
  const literals = bits.take(5) + 257;
  const distances = bits.take(5) + 1;
  const orders = bits.take(4) + 4;
  const packing = new Uint8Array(LENGTH_ORDER.length);
  for (let i = 0; i < orders; i++) packing[LENGTH_ORDER[i]!] = bits.take(3);
  const codes = codesOf(packing);
  const lengths = new Uint8Array(literals + distances);
  for (let i = 0; i < lengths.length; ) {
    const symbol = bits.symbol(codes);
    if (symbol < 16) lengths[i++] = symbol;
    else if (symbol === 16) i = repeat(lengths, i, lengths[i - 1] ?? 0, 3 + bits.take(2));
    else i = repeat(lengths, i, 0, symbol === 17 ? 3 + bits.take(3) : 11 + bits.take(7));
  }
  return { literals: codesOf(lengths.subarray(0, literals)), distances: codesOf(lengths.subarray(literals)) };
}

function repeat(lengths: Uint8Array, from: number, length: number, times: number): number {
  lengths.fill(length, from, from + times);
  return from + times;
}

/** RFC 1951, 3.2.2: codes of one length are numbered in the order of their symbols. */
function codesOf(lengths: Uint8Array): Codes {
  const counts = new Uint16Array(MOST_BITS + 2);
  for (const length of lengths) if (length > 0) counts[length + 1]! += 1;
  const bits = Math.max(1, ...lengths);
  const next = new Uint16Array(MOST_BITS + 2);
  for (let length = 1; length <= MOST_BITS; length++) next[length + 1] = (next[length]! + counts[length + 1]!) << 1;
  const table = new Uint16Array(1 << bits);
  lengths.forEach((length, symbol) => {
    if (length === 0) return;
    const code = reversed(next[length]!++, length);
    for (let i = code; i < table.length; i += 1 << length) table[i] = (symbol << 4) | length;
  });
  return { bits, table };
}

function reversed(code: number, length: number): number {
  let turned = 0;
  for (let i = 0; i < length; i++) turned |= ((code >> i) & 1) << (length - 1 - i);
  return turned;
}

/** Each step begins where the one before it ends. */
function steps(first: number, extraBits: readonly number[]): readonly [Uint16Array, Uint8Array] {
  let at = first;
  const starts = extraBits.map((bits) => {
    const start = at;
    at += 1 << bits;
    return start;
  });
  return [Uint16Array.from(starts), Uint8Array.from(extraBits)];
}

const fixed = {
  literals: codesOf(Uint8Array.from({ length: 288 }, (_, i) => (i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8))),
  distances: codesOf(new Uint8Array(30).fill(5)),
};
