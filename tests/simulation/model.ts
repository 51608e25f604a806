import type { StoredEntry } from '../../shared/sync/port.ts';

/** A place that holds entries, as the model sees it: raw lines in the order in which they came. */
export interface Place {
  readonly name: string;
  readonly lines: () => readonly StoredEntry[];
  /** On the server an entry never stands before the one that it builds on; a tablet may have to wait for that one. */
  readonly isStrict: boolean;
}

interface Written {
  readonly text: string;
  /** The entry that it builds on, by number. */
  readonly after: number | null;
}

/**
 * Judges a world from outside. It knows what people wrote, by a number in each body, and what the server said it has;
 * it shares no code with what it judges, and works nothing out with hashes.
 */
export class Model {
  readonly faults: string[] = [];
  private readonly written: Written[] = [];
  private readonly acknowledged = new Set<number>();
  private readonly seen = new Map<Place, { count: number; numbers: Set<number> }>();
  /** Everything that the server ever had. */
  private readonly everOnServer = new Set<string>();

  constructor(
    private readonly server: Place,
    private readonly places: () => readonly Place[],
  ) {}

  get count(): number {
    return this.written.length;
  }

  wrote(text: string, after: number | null): void {
    this.written.push({ text, after });
  }

  numberOf(line: string): number {
    return (JSON.parse(line) as { body: { n: number } }).body.n;
  }

  /** The server said of a batch that it has it. */
  serverAcknowledged(batch: string): void {
    for (const line of batch.split('\n').slice(1, -1)) {
      const n = this.numberOf(line);
      this.acknowledged.add(n);
      if (!this.numbersAt(this.server).has(n)) this.fault(`entry ${n} was acknowledged and is not on the server`);
    }
  }

  /** A place was put back to an older state, on purpose: it may have less than before. */
  restored(place: Place): void {
    this.seen.delete(place);
  }

  /** Whether an acknowledged entry would be nowhere any more if a place had these lines only. */
  wouldEndAcknowledged(place: Place, lines: readonly StoredEntry[]): boolean {
    const left = new Set(lines.map((l) => this.numberOf(l.text)));
    for (const other of [this.server, ...this.places()])
      if (other !== place) for (const n of this.numbersAt(other)) left.add(n);
    return [...this.acknowledged].some((n) => !left.has(n));
  }

  /** After every step: what changed, and that nothing went. */
  look(): void {
    this.lookAt(this.server);
    for (const place of this.places()) this.lookAt(place);
  }

  /** What a tablet holds to be elsewhere must once have been there. */
  believes(name: string, heads: Readonly<Record<string, readonly (readonly [number, string])[]>> | null): void {
    for (const tips of Object.values(heads ?? {}))
      for (const [, hash] of tips)
        if (!this.everOnServer.has(hash))
          this.fault(`${name} takes an entry for carried that never came to the server`);
  }

  /** Now and then, and at the end: everything anew. */
  lookThrough(): void {
    for (const place of [this.server, ...this.places()]) {
      const before = this.seen.get(place);
      const numbers = new Set(place.lines().map((l) => this.numberOf(l.text)));
      if (before && [...before.numbers].some((n) => !numbers.has(n))) this.fault(`${place.name} has lost an entry`);
      this.seen.delete(place);
      this.lookAt(place);
    }
  }

  /** Whether all places have the same, whole. */
  isSettled(): boolean {
    const sizes = [this.server, ...this.places()].map((p) => this.numbersAt(p).size);
    const all = new Set([this.server, ...this.places()].flatMap((p) => [...this.numbersAt(p)]));
    return sizes.every((size) => size === all.size);
  }

  /** At the end: everywhere the same, and all that was ever acknowledged. */
  end(): void {
    this.lookThrough();
    if (!this.isSettled()) {
      const has = [this.server, ...this.places()].map((p) => `${p.name} ${this.numbersAt(p).size}`).join(', ');
      this.fault(`not all have the same after healing: ${has}`);
    }
    const lost = [...this.acknowledged].filter((n) => !this.numbersAt(this.server).has(n));
    if (lost.length > 0) this.fault(`acknowledged and lost: ${lost.slice(0, 5).join(', ')}`);
    for (const place of this.places()) {
      const numbers = this.numbersAt(place);
      const hanging = [...numbers].filter(
        (n) => this.written[n]!.after !== null && !numbers.has(this.written[n]!.after!),
      );
      if (hanging.length > 0) this.fault(`${place.name} has entries that hang in the air`);
    }
  }

  private numbersAt(place: Place): Set<number> {
    this.lookAt(place);
    return this.seen.get(place)!.numbers;
  }

  private lookAt(place: Place): void {
    const lines = place.lines();
    const seen = this.seen.get(place) ?? { count: 0, numbers: new Set<number>() };
    this.seen.set(place, seen);
    if (lines.length < seen.count) this.fault(`${place.name} has lost an entry`);
    for (; seen.count < lines.length; seen.count++) this.judge(place, lines[seen.count]!, seen.numbers);
  }

  private judge(place: Place, line: StoredEntry, numbers: Set<number>): void {
    const n = this.numberOf(line.text);
    const written = this.written[n];
    if (written?.text !== line.text) this.fault(`${place.name} has an entry that nobody wrote so: ${line.text}`);
    if (numbers.has(n)) this.fault(`${place.name} has entry ${n} twice`);
    const hangs = written && written.after !== null && !numbers.has(written.after);
    if (place.isStrict && hangs) this.fault(`${place.name} has entry ${n} without the one before it`);
    if (place === this.server) this.everOnServer.add(line.hash);
    numbers.add(n);
  }

  fault(words: string): void {
    this.faults.push(words);
  }
}
