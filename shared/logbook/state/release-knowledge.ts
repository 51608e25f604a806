import type { Kept } from '../log.ts';
import { anyKind, type View } from './view.ts';

/** How much a release knew of one admitted tablet. */
export interface KnownTablet {
  readonly device: string;
  readonly name: string;
  /** How many entries of its chain; 0 when the signing tablet had nothing of it. */
  readonly entries: number;
  /** When the last of them was written, ISO 8601; null where none was known. */
  readonly until: string | null;
}

export interface ReleaseKnowledge {
  readonly tablets: readonly KnownTablet[];
  /** How many of the admitted tablets it knew entries of. */
  readonly known: number;
  readonly admitted: number;
  /** Of those known, the time up to which all of them are known, ISO 8601. */
  readonly by: string;
}

/** From what a release was made: the chains of the tablets that its own tablet knew to be admitted and not retired. */
export function releaseKnowledge(view: View, release: Kept<'release'>): ReleaseKnowledge {
  const at = anyKind(release);
  const known = view.standing.knowledge.knownTo(at);
  const tablets = admittedAt(view, at).map(({ device, name }): KnownTablet => {
    if (device === release.entry.device)
      return { device, name, entries: release.entry.seq, until: release.entry.recordedAt };
    const head = known.get(device);
    const last = head && view.log.get(head[1]);
    return { device, name, entries: head?.[0] ?? 0, until: last?.entry.recordedAt ?? null };
  });
  const times = tablets.flatMap((t) => (t.until === null ? [] : [t.until]));
  return {
    tablets,
    known: times.length,
    admitted: tablets.length,
    by: times.reduce((a, b) => (Date.parse(b) < Date.parse(a) ? b : a), release.entry.recordedAt),
  };
}

/** The tablets that were admitted and not retired as far as the writer of an entry knew. */
function admittedAt(view: View, at: Kept): { device: string; name: string }[] {
  const { knowledge } = view.standing;
  const lines = view.log.inScope('roster').filter((l) => view.standing.counts(l) && knowledge.covers(at, l));
  const retired = new Set(
    lines.filter((l) => l.kind === 'retirement').map((l) => (l as unknown as Kept<'retirement'>).body.device),
  );
  const first = view.log.inScope<'genesis'>('genesis')[0]!;
  const named = new Map([[first.entry.device, view.genesis.device.name]]);
  for (const line of lines)
    if (line.kind === 'device') {
      const { device, name } = (line as unknown as Kept<'device'>).body;
      named.set(device, name);
    }
  return [...named].flatMap(([device, name]) => (retired.has(device) ? [] : [{ device, name }]));
}
