import { canonicalJson, sha256Hex, sha256OfHex, shortHash } from '../logbook/canonical.ts';
import { adopt, type Clock } from '../logbook/clock.ts';
import type { Signer } from '../logbook/crypto.ts';
import type { Entry, Head } from '../logbook/entry.ts';
import { type Kind, signedKinds } from '../logbook/kinds.ts';
import { Log, type SignatureCheck } from '../logbook/log.ts';
import { Standing } from '../logbook/standing.ts';
import { judge } from '../logbook/state/derived.ts';
import { type View, viewOf } from '../logbook/state/view.ts';
import { type Act, nextEntry, signEntry } from '../logbook/write.ts';

interface Line {
  readonly entry: Entry;
  readonly hash: string;
  readonly signature: SignatureCheck;
  readonly text: string;
}

/** A tablet that writes its chain in memory and merges another's. */
export class PracticeTablet {
  readonly device: string;
  readonly lines: Line[] = [];
  private readonly log: Log;
  private readonly standing: Standing;
  private head: Head | null = null;
  private clock: Clock = [0, 0];
  private seen: Record<string, Head> = {};
  /** How many lines of each other tablet are merged. */
  private readonly merged = new Map<string, number>();

  constructor(
    private readonly casting: string,
    readonly publicKey: string,
  ) {
    this.device = shortHash(sha256OfHex(publicKey));
    this.log = new Log(casting);
    this.standing = new Standing(this.log);
  }

  /** Writes one act, signed where its kind needs it. @returns the hash of the entry. */
  async write<K extends Kind>(act: Act<K>, signer: Signer): Promise<string> {
    const { casting, device, head, seen, clock } = this;
    const unsigned = nextEntry({ casting, device, head, seen, clock }, act);
    const signed = signedKinds.has(act.kind) && !isFirstPlan(act);
    const entry: Entry = signed ? await signEntry(unsigned, signer) : unsigned;
    const text = canonicalJson(entry);
    const hash = sha256Hex(text);
    this.keep({ entry, hash, signature: signed ? 'good' : 'none', text });
    return hash;
  }

  /** Takes what another tablet has written and this one has not seen. */
  merge(other: PracticeTablet, at: number): void {
    const from = this.merged.get(other.device) ?? 0;
    const fresh = other.lines.slice(from);
    if (fresh.length === 0) return;
    for (const { entry, hash, signature } of fresh) {
      this.log.add(entry, hash, signature);
      this.clock = adopt(this.clock, entry.clock, at);
    }
    this.merged.set(other.device, other.lines.length);
    this.seen = { ...this.seen, [other.device]: other.head! };
  }

  view(): View {
    const view = viewOf(this.log, judge, this.standing);
    if (!view) throw new Error('This tablet has no genesis');
    return view;
  }

  private keep(line: Line): void {
    this.lines.push(line);
    this.log.add(line.entry, line.hash, line.signature);
    this.head = [line.entry.seq, line.hash];
    this.clock = line.entry.clock;
    this.seen = {};
  }
}

/** The first plan stands by the hash in the genesis. */
const isFirstPlan = (act: Act): boolean =>
  act.kind === 'plan' && (act.body as { parents: unknown[] }).parents.length === 0;
