import type { Head } from './entry.ts';
import type { Kept, Log } from './log.ts';

/**
 * What the device of an entry knew when it wrote it: for each chain the furthest head that it had merged. Its own
 * earlier entries are known by `prev`.
 */
export type Known = ReadonlyMap<string, Head>;

/** Answers "did the writer of a know b?" over one log; keeps what it worked out, since the past does not change. */
export class Knowledge {
  private readonly known = new Map<string, Known>();

  constructor(private readonly log: Log) {}

  /** Whether `a` covers `b`: `b` is an earlier entry of the same chain, or lies below a head that its device had merged. */
  covers(a: Kept, b: Kept): boolean {
    if (a.outline.device === b.outline.device) return b.outline.seq < a.outline.seq && this.isAncestor(b, a);
    const head = this.knownTo(a).get(b.outline.device);
    if (!head || b.outline.seq > head[0]) return false;
    const tip = this.log.get(head[1]);
    return tip === undefined ? false : tip.hash === b.hash || this.isAncestor(b, tip);
  }

  /** The heads of other chains known at an entry, added up along its chain. */
  knownTo(kept: Kept): Known {
    const line: Kept[] = [];
    let from: Known = new Map();
    for (
      let at: Kept | undefined = kept;
      at;
      at = at.outline.prev === null ? undefined : this.log.get(at.outline.prev)
    ) {
      const found = this.known.get(at.hash);
      if (found) {
        from = found;
        break;
      }
      line.push(at);
    }
    for (const at of line.reverse()) {
      from = added(from, at.outline.seen);
      // Only where something new was merged, and where it was asked, is it worth keeping.
      const worthKeeping = at === kept || Object.keys(at.outline.seen).length > 0;
      if (worthKeeping && this.log.isLinked(at)) this.known.set(at.hash, from);
    }
    return from;
  }

  /** Whether `b` lies on the line from `a` back to the start of its chain. */
  private isAncestor(b: Kept, a: Kept): boolean {
    if (b.outline.seq >= a.outline.seq) return false;
    if (this.log.isOnTrunk(a) || this.log.isOnTrunk(b)) return this.log.isLinked(a) && this.log.isOnTrunk(b);
    let at: Kept | undefined = a;
    while (at && at.outline.seq > b.outline.seq)
      at = at.outline.prev === null ? undefined : this.log.get(at.outline.prev);
    return at?.hash === b.hash;
  }
}

function added(known: Known, seen: Readonly<Record<string, Head>>): Known {
  if (Object.keys(seen).length === 0) return known;
  const sum = new Map(known);
  for (const [device, head] of Object.entries(seen)) {
    const before = sum.get(device);
    if (!before || head[0] > before[0]) sum.set(device, head);
  }
  return sum;
}
