import { sha256OfHex, shortHash } from './canonical.ts';
import { type Body, type Kind, type Role, signedKinds } from './kinds.ts';
import { Knowledge } from './knowledge.ts';
import type { Kept, Log } from './log.ts';

/** Why an entry counts for nothing; each has its words in `faults.ts`. */
export type Fault =
  | 'gap'
  | 'fork'
  | 'unknown-kind'
  | 'tablet-not-admitted'
  | 'tablet-retired'
  | 'person-not-admitted'
  | 'person-retired'
  | 'not-signed'
  | 'signature-wrong'
  | 'key-not-vouched'
  | 'key-retired'
  | 'role-missing';

interface Admitted {
  readonly devices: Map<string, { name: string; key: string; by: Kept }>;
  readonly people: Map<string, Kept<'person' | 'genesis'>[]>;
  readonly keys: Map<string, { person: string; device: string; by: Kept }>;
  readonly retirements: Kept<'retirement'>[];
  /** Entries on a fork's branches that a keeper has adopted. */
  readonly adopted: Set<string>;
}

const nobody = (): Admitted => ({
  devices: new Map(),
  people: new Map(),
  keys: new Map(),
  retirements: [],
  adopted: new Set(),
});

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly retired: boolean;
}

/**
 * Who and what counts: works out the roster from the genesis and the keepers' signed entries, and says of any entry
 * whether it counts as evidence. It depends on the set of entries alone, never on the order of their arrival.
 */
export class Standing {
  readonly knowledge: Knowledge;
  private epoch = -1;
  private admitted = nobody();

  constructor(private readonly log: Log) {
    this.knowledge = new Knowledge(log);
  }

  /** Null when the entry counts, else the first reason why not. */
  faultOf(kept: Kept): Fault | null {
    return this.faultWith(kept, this.roster());
  }

  counts(kept: Kept): boolean {
    return this.faultOf(kept) === null;
  }

  /** The entries of a scope that count, sorted by hash. */
  counting<K extends Kind>(scope: string): Kept<K>[] {
    return this.log.inScope<K>(scope).filter((kept) => this.counts(kept as unknown as Kept));
  }

  people(): Person[] {
    return [...this.roster().people.keys()].sort().map((id) => this.person(id)!);
  }

  person(id: string): Person | null {
    const lines = this.roster().people.get(id);
    if (!lines) return null;
    const latest = this.latest(lines);
    return {
      id,
      name: latest.map(nameIn)[0]!,
      roles: shared(latest.map(rolesIn)),
      retired: this.roster().retirements.some((r) => r.body.person === id),
    };
  }

  /** The admitted tablets by device id. */
  tablets(): { device: string; name: string; key: string; retired: boolean }[] {
    const { devices, retirements } = this.roster();
    return [...devices].map(([device, { name, key }]) => ({
      device,
      name,
      key,
      retired: retirements.some((r) => r.body.device === device),
    }));
  }

  /** The vouched keys of a person on a tablet. */
  keysOf(person: string, device: string): string[] {
    const { keys, retirements } = this.roster();
    return [...keys].flatMap(([key, k]) =>
      k.person === person && k.device === device && !retirements.some((r) => r.body.key === key) ? [key] : [],
    );
  }

  /** The roles that the writer of an entry held, as far as the writing tablet knew. */
  rolesAt(kept: Kept): readonly Role[] {
    return this.rolesOf(kept.entry.by, kept, this.roster());
  }

  private roster(): Admitted {
    if (this.epoch !== this.log.epoch) {
      this.admitted = this.workOut();
      this.epoch = this.log.epoch;
    }
    return this.admitted;
  }

  /**
   * Admits lines until nothing changes; the result depends on the set of lines alone. Keepers who retire each other
   * without knowing of it could make it swing for ever: then only what passes in both swings counts.
   */
  private workOut(): Admitted {
    const lines = this.log.inScope('roster');
    let passed: Kept[] = [];
    for (let pass = 0; pass <= lines.length + 2; pass++) {
      const roster = this.rosterOf(passed);
      const next = lines.filter((line) => this.faultWith(line, roster) === null);
      if (sameLines(passed, next)) return roster;
      passed = pass < lines.length + 2 ? next : next.filter((line) => passed.includes(line));
    }
    return this.rosterOf(passed);
  }

  private rosterOf(lines: readonly Kept[]): Admitted {
    const roster = nobody();
    for (const genesis of this.log.inScope<'genesis'>('genesis')) this.found(genesis, roster);
    for (const line of lines) this.admit(line, roster);
    return roster;
  }

  /** The founder and the first tablet stand by the genesis itself. */
  private found(genesis: Kept<'genesis'>, roster: Admitted): void {
    const { device, founder } = genesis.body;
    const line = genesis as unknown as Kept;
    if (genesis.entry.seq !== 1 || genesis.entry.device !== shortHash(sha256OfHex(device.key))) return;
    roster.devices.set(genesis.entry.device, { ...device, by: line });
    roster.people.set(founder.person, [genesis as unknown as Kept<'person' | 'genesis'>]);
    roster.keys.set(founder.key, { person: founder.person, device: genesis.entry.device, by: line });
  }

  private admit(line: Kept, roster: Admitted): void {
    switch (line.kind) {
      case 'person': {
        const { person } = line.body as Body<'person'>;
        roster.people.set(person, [...(roster.people.get(person) ?? []), line as Kept<'person'>]);
        return;
      }
      case 'key': {
        const { person, key, device } = line.body as Body<'key'>;
        roster.keys.set(key, { person, device, by: line });
        return;
      }
      case 'device': {
        const { device, key, name } = line.body as Body<'device'>;
        if (device === shortHash(sha256OfHex(key))) roster.devices.set(device, { name, key, by: line });
        return;
      }
      case 'retirement':
        roster.retirements.push(line as unknown as Kept<'retirement'>);
        return;
      case 'adoption':
        for (const hash of this.branchDownFrom((line.body as Body<'adoption'>).hash)) roster.adopted.add(hash);
    }
  }

  /** The hashes from an entry back to the trunk. */
  private branchDownFrom(hash: string): string[] {
    const branch: string[] = [];
    let at = this.log.get(hash);
    while (at && this.log.isLinked(at) && !this.log.isOnTrunk(at)) {
      branch.push(at.hash);
      at = at.entry.prev === null ? undefined : this.log.get(at.entry.prev);
    }
    return branch;
  }

  private faultWith(kept: Kept, roster: Admitted): Fault | null {
    return (
      this.chainFault(kept, roster) ??
      (kept.kind === null ? 'unknown-kind' : null) ??
      this.writerFault(kept, roster) ??
      this.signatureFault(kept, roster) ??
      this.roleFault(kept, roster)
    );
  }

  private chainFault(kept: Kept, roster: Admitted): Fault | null {
    if (!this.log.isLinked(kept)) return 'gap';
    return this.log.isOnTrunk(kept) || roster.adopted.has(kept.hash) ? null : 'fork';
  }

  private writerFault(kept: Kept, roster: Admitted): Fault | null {
    const { device, by } = kept.entry;
    if (!roster.devices.has(device)) return 'tablet-not-admitted';
    if (!roster.people.has(by)) return 'person-not-admitted';
    if (this.retiredFor(kept, roster, (r) => r.device === device)) return 'tablet-retired';
    return this.retiredFor(kept, roster, (r) => r.person === by) ? 'person-retired' : null;
  }

  private signatureFault(kept: Kept, roster: Admitted): Fault | null {
    if (kept.signature === 'bad') return 'signature-wrong';
    if (!kept.entry.signature) return signedKinds.has(kept.entry.kind) && !isFirstPlan(kept) ? 'not-signed' : null;
    const { key } = kept.entry.signature;
    const vouched = roster.keys.get(key);
    if (!vouched || vouched.person !== kept.entry.by || vouched.device !== kept.entry.device) return 'key-not-vouched';
    return this.retiredFor(kept, roster, (r) => r.key === key) ? 'key-retired' : null;
  }

  private roleFault(kept: Kept, roster: Admitted): Fault | null {
    const needed = rolesNeeded(kept);
    if (needed.length === 0) return null;
    const held = this.rolesOf(kept.entry.by, kept, roster);
    return needed.some((role) => held.includes(role)) ? null : 'role-missing';
  }

  /** What was written in ignorance of a retirement counts only if the retiring keeper had already seen it. */
  private retiredFor(kept: Kept, roster: Admitted, hits: (r: Body<'retirement'>) => boolean): boolean {
    if (kept.kind === 'retirement') return false;
    return roster.retirements.some((r) => hits(r.body) && !this.knowledge.covers(r as unknown as Kept, kept));
  }

  private rolesOf(person: string, at: Kept, roster: Admitted): readonly Role[] {
    const known = (roster.people.get(person) ?? []).filter(
      (line) => line.hash === at.hash || this.knowledge.covers(at, line as unknown as Kept),
    );
    return shared(this.latest(known).map(rolesIn));
  }

  /** The lines that no other line of the list was written in knowledge of. */
  private latest<L extends Kept<'person' | 'genesis'>>(lines: readonly L[]): L[] {
    return lines.filter(
      (line) => !lines.some((other) => this.knowledge.covers(other as unknown as Kept, line as unknown as Kept)),
    );
  }
}

const sameLines = (a: readonly Kept[], b: readonly Kept[]): boolean =>
  a.length === b.length && a.every((line, i) => line.hash === b[i]!.hash);

const rolesIn = (line: Kept<'person' | 'genesis'>): readonly Role[] =>
  line.kind === 'genesis' ? (line.body as Body<'genesis'>).founder.roles : (line.body as Body<'person'>).roles;

const nameIn = (line: Kept<'person' | 'genesis'>): string =>
  line.kind === 'genesis' ? (line.body as Body<'genesis'>).founder.name : (line.body as Body<'person'>).name;

/** The roles that all lists name: where two keepers disagree, the smaller right holds. */
const shared = (lists: readonly (readonly Role[])[]): readonly Role[] =>
  lists.length === 0 ? [] : lists[0]!.filter((role) => lists.every((list) => list.includes(role)));

/** The first plan stands by the hash in the genesis, not by a signature. */
const isFirstPlan = (kept: Kept): boolean => kept.kind === 'plan' && (kept.body as Body<'plan'>).parents.length === 0;

/** Who may write what counts; any one of the roles will do. */
function rolesNeeded(kept: Kept): readonly Role[] {
  switch (kept.kind) {
    case 'person':
    case 'key':
    case 'device':
    case 'retirement':
    case 'adoption':
    case 'hall':
      return ['keeper'];
    case 'plan':
      return isFirstPlan(kept) ? [] : ['process-engineer'];
    case 'release':
    case 'refusal':
    case 'disposition':
    case 'closure':
    case 'handover':
    case 'handover-answer':
      return [(kept.body as Body<'release'>).role];
    default:
      return [];
  }
}
