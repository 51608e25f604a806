import { randomBytes } from 'node:crypto';
import { canonicalJson, sha256OfHex, shortHash } from '../../shared/logbook/canonical.ts';
import type { Signer } from '../../shared/logbook/crypto.ts';
import { entryHash, readEntry } from '../../shared/logbook/entry.ts';
import type { Body, Kind } from '../../shared/logbook/kinds.ts';
import { nextEntry, signEntry } from '../../shared/logbook/write.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Design, Plan } from '../../shared/plan/schema.ts';
import { type CrewKey, crewKeys } from '../../shared/practice/crew.ts';
import { generatePractice, type PracticePerson } from '../../shared/practice/generate-practice.ts';
import { walkPlan } from '../../shared/practice/walk-plan.ts';
import { type CarriedLine, cut, writeBatch } from '../../shared/sync/file-batch.ts';
import { deviceOfRequest, readJoinRequest } from '../../shared/sync/join-request.ts';
import { webVerifier } from '../../src/tablet/storage/keys.ts';
import { CrewTablet } from './crew-tablet.ts';
import { newSigner } from './node-signers.ts';

/** A small thick blank of the same make, invented: few cores, so that all of them are soon measured. */
export const smallDesign: Design = {
  ...practiceDesign,
  blank_diameter_mm: 1200,
  centre_thickness_mm: 400,
  radius_of_curvature_m: 3.84,
  radius_tolerance_m: 0.01,
};

/** The last operation before glass is loaded, and the hold point behind it. */
const LAST = '7.3';

/**
 * A casting that stands before the hold point *mould released for glass*, with nothing missing but its signatures; and
 * its keeper, who hands it on by file and admits tablets.
 */
export class ReadyForGlass {
  private constructor(
    readonly plan: Plan,
    readonly casting: string,
    private readonly lines: CarriedLine[],
    private readonly tablet: Signer,
    private readonly people: { readonly [K in CrewKey]: PracticePerson },
  ) {}

  static async make(now_ms: number): Promise<ReadyForGlass> {
    const plan = buildPlan(smallDesign);
    const [tablet, other] = [await newSigner(), await newSigner()];
    const people = Object.fromEntries(
      await Promise.all(
        crewKeys.map(async (who) => {
          const signers = [await newSigner(), await newSigner()] as const;
          return [who, { id: randomBytes(16).toString('hex'), signers }] as const;
        }),
      ),
    ) as { [K in CrewKey]: PracticePerson };
    const { casting, lines } = await generatePractice({
      seed: 'ready for glass',
      endsAt: now_ms,
      utcOffset: 0,
      timeZone: 'Etc/UTC',
      plan,
      tablets: [tablet.publicKey, other.publicKey],
      people,
      story: { stages: [walkPlan(LAST)], last: { operation: LAST, share: 1.1 } },
    });
    return new ReadyForGlass(
      plan,
      casting,
      lines.map((text) => carried(text, casting)),
      tablet,
      people,
    );
  }

  texts(): string[] {
    return this.lines.map((line) => line.text);
  }

  /** The hash of the reading at a station. */
  readingAt(operation: string, characteristic: string, station: string): string {
    const found = this.lines.find(({ entry: { kind, body } }) => {
      const b = body as Body<'reading'>;
      return (
        kind === 'reading' && b.operation === operation && b.characteristic === characteristic && b.station === station
      );
    });
    if (!found) throw new Error(`Nothing was read at ${station}`);
    return found.hash;
  }

  body<K extends Kind>(hash: string): Body<K> {
    return this.lines.find((line) => line.hash === hash)!.entry.body as Body<K>;
  }

  /** What was written after the first so many entries. */
  linesAfter(count: number): readonly CarriedLine[] {
    return this.lines.slice(count);
  }

  /** Everything, as the text of a file. */
  file(): Promise<string> {
    return this.batches(this.lines);
  }

  /** The keeper admits the tablets that ask for it. @returns the text of the file with that. */
  async admit(requests: readonly { readonly name: string; readonly text: string }[]): Promise<string> {
    const before = this.lines.length;
    for (const { name, text } of requests) {
      const request = await readJoinRequest(text, this.casting, webVerifier);
      if (!request || 'fault' in request) throw new Error('That is no request');
      const device = deviceOfRequest(request);
      await this.write('device', { device, key: request.key, name });
      for (const { person, key } of request.people) await this.write('key', { person, key, device });
    }
    return this.batches(this.lines.slice(before));
  }

  /** One more tablet of the crew, admitted by the keeper, with everything that was written up to now. */
  async addTablet(name: string, who: readonly CrewKey[]): Promise<CrewTablet> {
    const signer = await newSigner();
    const device = shortHash(sha256OfHex(signer.publicKey));
    await this.write('device', { device, key: signer.publicKey, name });
    const people: Record<string, { id: string; signer: Signer }> = {};
    for (const key of who) {
      const made = await newSigner();
      people[key] = { id: this.people[key].id, signer: made };
      await this.write('key', { person: this.people[key].id, key: made.publicKey, device });
    }
    const last = this.lines.filter((l) => l.entry.device === this.lines[0]!.entry.device).at(-1)!;
    const { device: hall, seq, clock, recordedAt } = last.entry;
    return new CrewTablet(
      name,
      this.casting,
      signer,
      people,
      { head: null, seen: { [hall]: [seq, last.hash] }, clock },
      recordedAt,
    );
  }

  /** The keeper retires a key. */
  retireKey(key: string): Promise<void> {
    return this.write('retirement', { key, reason: 'The tablet was out of sight.' });
  }

  /** Lines of any tablets as the text of a file that the first tablet hands on. */
  async batches(lines: readonly CarriedLine[]): Promise<string> {
    const texts = [];
    for (const batch of cut(lines)) texts.push(await writeBatch(this.casting, batch, this.tablet));
    return texts.join('');
  }

  /** The keeper writes on the tablet that opened the casting. */
  private async write<K extends 'device' | 'key' | 'retirement'>(kind: K, body: Body<K>): Promise<void> {
    const device = this.lines[0]!.entry.device;
    const last = this.lines.filter((l) => l.entry.device === device).at(-1)!;
    const { recordedAt, clock, seq } = last.entry;
    const { id, signers } = this.people.lead;
    const unsigned = nextEntry(
      { casting: this.casting, device, head: [seq, last.hash], seen: {}, clock },
      { kind, body, by: id, observedAt: recordedAt, recordedAt },
    );
    const entry = await signEntry(unsigned, signers[0]);
    this.lines.push({ entry, hash: entryHash(entry), text: canonicalJson(entry) });
  }
}

function carried(text: string, casting: string): CarriedLine {
  const read = readEntry(text, casting);
  if ('fault' in read) throw new Error(`A line does not read: ${read.fault}`);
  return { ...read, text };
}
