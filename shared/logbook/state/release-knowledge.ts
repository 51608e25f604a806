import type { Head } from '../entry.ts';
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
  const { knowledge } = view.standing;
  const { device, seq, recordedAt } = release.entry;
  const known = knowledge.knownTo(at);
  return knowledgeFrom(
    view,
    admitted(view, (line) => knowledge.covers(at, line)),
    { device, entries: seq, until: recordedAt },
    (other) => known.get(other),
  );
}

/** From what a release would be made that a tablet signs at an instant, ISO 8601, with all that it has. */
export const knowledgeNow = (view: View, device: string, until: string): ReleaseKnowledge =>
  knowledgeFrom(
    view,
    admitted(view, () => true),
    { device, entries: view.log.head(device)?.[0] ?? 0, until },
    (other) => view.log.head(other) ?? undefined,
  );

function knowledgeFrom(
  view: View,
  named: readonly { device: string; name: string }[],
  own: Omit<KnownTablet, 'name'> & { readonly until: string },
  headOf: (device: string) => Head | undefined,
): ReleaseKnowledge {
  const tablets = named.map(({ device, name }): KnownTablet => {
    if (device === own.device) return { ...own, name };
    const head = headOf(device);
    const last = head && view.log.get(head[1]);
    return { device, name, entries: head?.[0] ?? 0, until: last?.entry.recordedAt ?? null };
  });
  const times = tablets.flatMap((t) => (t.until === null ? [] : [t.until]));
  return {
    tablets,
    known: times.length,
    admitted: tablets.length,
    by: times.reduce((a, b) => (Date.parse(b) < Date.parse(a) ? b : a), own.until),
  };
}

/** The tablets that are admitted and not retired by the lines of the roster that were known. */
function admitted(view: View, knew: (line: Kept) => boolean): { device: string; name: string }[] {
  const lines = view.log.inScope('roster').filter((l) => view.standing.counts(l) && knew(l));
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
