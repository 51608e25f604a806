import type { Kept } from '../../../shared/logbook/log.ts';
import { entriesSince } from '../../../shared/logbook/state/handover.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../app/time.ts';
import { kindName } from './entry-words.ts';

/** What lies between two handovers, as the address of a search of the record. */
interface Asked {
  /** The accepted handover before, by its hash; null for the start of the casting. */
  readonly since: string | null;
  /** The handover that ends it; null for now. */
  readonly until: string | null;
  readonly kinds?: readonly string[] | undefined;
}

const START = 'start';

export function rangeHref({ since, until, kinds = [] }: Asked): string {
  const query = new URLSearchParams({
    since: since ?? START,
    ...(until ? { until } : {}),
    ...(kinds.length > 0 ? { kinds: kinds.join(' ') } : {}),
  });
  return `/record?${query}`;
}

export interface RecordRange {
  /** `Entries since day 43, 17:54 up to day 44, 06:00: signature, refusal`. */
  readonly words: string;
  readonly hashes: ReadonlySet<string>;
}

/** The entries that count and that came in between two handovers; null where the address asks for no range. */
export function rangeOf(view: View, { since, until, kinds }: Readonly<Record<string, string>>): RecordRange | null {
  if (since === undefined) return null;
  const from = handover(view, since);
  const to = handover(view, until);
  const wanted = kinds ? kinds.split(' ') : [];
  const later = new Set(to ? entriesSince(view, to).map((k) => k.hash) : []);
  const hashes = entriesSince(view, from)
    .filter((k) => !later.has(k.hash) && k.hash !== to?.hash)
    .filter((k) => wanted.length === 0 || wanted.includes(k.entry.kind))
    .map((k) => k.hash);
  const at = ({ entry }: Kept<'handover'>) => dayAndTime(entry.recordedAt, view.genesis.dayOne, view.genesis.timeZone);
  const start = from ? at(from) : 'the start of the casting';
  const end = to ? ` up to ${at(to)}` : '';
  const what = wanted.length > 0 ? `: ${wanted.map(kindName).join(', ')}` : '';
  return { words: `Entries that came since ${start}${end}${what}`, hashes: new Set(hashes) };
}

function handover(view: View, hash: string | undefined): Kept<'handover'> | null {
  const kept = hash === undefined || hash === START ? undefined : view.log.get(hash);
  return kept?.kind === 'handover' ? (kept as unknown as Kept<'handover'>) : null;
}
