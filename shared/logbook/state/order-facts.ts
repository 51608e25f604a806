import type { Operation } from '../../plan/schema.ts';
import type { Kept } from '../log.ts';
import type { Fact } from './findings.ts';
import { firstWork, happenedBefore, mark, workThat } from './sequence.ts';
import { live } from './strikes.ts';
import { anyKind, type View } from './view.ts';

type Link = Operation['after'][number];

const HOUR_MS = 3_600_000;

/** What was done on an operation before that which must precede it. Nothing is refused: it is told, with the plan's reason. */
export function orderFacts(view: View, operation: string): Fact[] {
  const planned = view.plan.operations.find((o) => o.id === operation);
  return (planned?.after ?? []).flatMap((link) => factOf(view, operation, link));
}

function factOf(view: View, operation: string, link: Link): Fact[] {
  const early = earlyWork(view, operation, link);
  const [first] = early;
  if (!first) return [];
  const count = `${early.length} ${early.length === 1 ? 'entry is' : 'entries are'} out of sequence; all are kept.`;
  return [
    {
      rule: 'out-of-sequence',
      subject: link.type === 'FS' ? [operation, link.id] : [operation, link.id, link.type],
      operation,
      severity: 'minor',
      blocks: null,
      title: titleOf(view, operation, link, first),
      words: link.why ? `${link.why} ${count}` : count,
      causes: early.map((e) => e.hash),
      settled: false,
    },
  ];
}

/** The entries that a link says came too early: all work (FS), the first sign of it (SS), the finish (FF). */
function earlyWork(view: View, operation: string, link: Link): Kept[] {
  const { id, type } = link;
  if (type === 'FS') return workThat(view, operation, `early/${id}`, (entry) => !allowed(view, link, entry));
  const one = type === 'FF' ? mark(view, operation, 'finished') : firstWork(view, operation);
  const entry = one && anyKind(one as Kept);
  return entry && !allowed(view, link, entry) ? [entry] : [];
}

/** Whether what a link waits for had come, and its lag had passed, when an entry was made; as far as anyone can tell. */
const allowed = (view: View, link: Link, entry: Kept): boolean =>
  comings(view, link).some(
    (came) => happenedBefore(view, came, entry) && (link.lag_h <= 0 || apart_h(came, entry) >= link.lag_h),
  );

const bindsFinish = (link: Link): boolean => link.type === 'FS' || link.type === 'FF';

function comings(view: View, link: Link): Kept[] {
  if (bindsFinish(link))
    return live(view, `operation/${link.id}`, 'operation').flatMap((o) =>
      o.body.mark === 'finished' ? [anyKind(o)] : [],
    );
  const first = firstWork(view, link.id);
  return first ? [first] : [];
}

const apart_h = (a: Kept, b: Kept): number =>
  (Date.parse(b.entry.observedAt) - Date.parse(a.entry.observedAt)) / HOUR_MS;

function titleOf(view: View, operation: string, link: Link, first: Kept): string {
  const did = link.type === 'FF' || link.type === 'SF' ? 'finished' : 'begun';
  const waited = `${link.id} was ${bindsFinish(link) ? 'finished' : 'begun'}`;
  const came = comings(view, link).find((c) => happenedBefore(view, c, first));
  return came
    ? `${operation} was ${did} ${Math.max(0, Math.floor(apart_h(came, first)))} h after ${waited}; the plan wants ${link.lag_h} h`
    : `${operation} was ${did} before ${waited}`;
}
