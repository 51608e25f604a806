import { canonicalJson, sha256OfHex, shortHash } from '../../shared/logbook/canonical.ts';
import type { Clock } from '../../shared/logbook/clock.ts';
import type { Signer } from '../../shared/logbook/crypto.ts';
import { type Entry, entryHash, type Head, type UnsignedEntry } from '../../shared/logbook/entry.ts';
import { type Body, type Kind, signedKinds } from '../../shared/logbook/kinds.ts';
import { nextEntry, signEntry } from '../../shared/logbook/write.ts';
import type { CrewKey } from '../../shared/practice/crew.ts';
import type { CarriedLine } from '../../shared/sync/file-batch.ts';

/** Where a chain stands, and what its next entry says to have seen. */
export interface ChainEnd {
  head: Head | null;
  seen: Record<string, Head>;
  clock: Clock;
}

/** A tablet of the crew that writes in memory, also what no app would write. */
export class CrewTablet {
  readonly device: string;
  readonly lines: CarriedLine[] = [];

  constructor(
    readonly name: string,
    private readonly casting: string,
    readonly signer: Signer,
    readonly people: Partial<{ readonly [K in CrewKey]: { readonly id: string; readonly signer: Signer } }>,
    private readonly end: ChainEnd,
    private readonly at: string,
  ) {
    this.device = shortHash(sha256OfHex(signer.publicKey));
  }

  /** Writes one act; what its kind wants signed is signed by the writer's key of this tablet. */
  async write<K extends Kind>(kind: K, body: Body<K>, by: CrewKey): Promise<CarriedLine> {
    const unsigned = this.unsigned(kind, body, by);
    const signed = signedKinds.has(kind);
    return this.keep(signed ? await signEntry(unsigned, this.people[by]!.signer) : unsigned);
  }

  /** The same with a signature of which one digit is another. */
  async forge<K extends Kind>(kind: K, body: Body<K>, by: CrewKey): Promise<CarriedLine> {
    const { signature, ...rest } = await signEntry(this.unsigned(kind, body, by), this.people[by]!.signer);
    const { key, value } = signature!;
    const last = value.endsWith('0') ? '1' : '0';
    return this.keep({ ...rest, signature: { key, value: `${value.slice(0, -1)}${last}` } });
  }

  /** An entry of a kind that this build does not know. */
  writeUnknown(by: CrewKey): CarriedLine {
    return this.keep({
      ...this.unsigned('note', { text: 'x' }, by),
      kind: 'from-a-later-version',
      body: { anything: 1 },
    });
  }

  /** What a copy of this tablet writes at the place of its last entry. */
  copyOfLast(text: string): CarriedLine {
    const { entry } = this.lines.at(-1)!;
    return carriedLine({ ...entry, body: { ...entry.body, text } });
  }

  /** Another tablet's chain has come up to here. */
  merge(other: CrewTablet): void {
    this.end.seen = { ...this.end.seen, [other.device]: other.end.head! };
  }

  private unsigned<K extends Kind>(kind: K, body: Body<K>, by: CrewKey): UnsignedEntry {
    const { casting, device, at } = this;
    return nextEntry(
      { casting, device, ...this.end },
      { kind, body, by: this.people[by]!.id, observedAt: at, recordedAt: at },
    );
  }

  private keep(entry: Entry): CarriedLine {
    const line = carriedLine(entry);
    this.lines.push(line);
    Object.assign(this.end, { head: [entry.seq, line.hash], seen: {}, clock: entry.clock });
    return line;
  }
}

const carriedLine = (entry: Entry): CarriedLine => ({ entry, hash: entryHash(entry), text: canonicalJson(entry) });
