import type { Kept } from '../../../shared/logbook/log.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../app/time.ts';

/** Who recorded an entry and when; who saw it, where that is another; and that it came from paper. */
export function SaidBy({ view, kept }: { view: View; kept: Kept }) {
  return <span class="second small dim">{saidBy(view, kept)}</span>;
}

export function saidBy(view: View, { entry, body }: Kept): string {
  const { dayOne, timeZone } = view.genesis;
  const name = (id: string) => view.standing.person(id)?.name ?? 'somebody not admitted';
  const { observer, way } = body as { observer?: string; way?: string };
  const seen = observer && observer !== entry.by ? [`seen by ${name(observer)}`] : [];
  const paper = way === 'paper' ? ['typed from paper'] : [];
  return [name(entry.by), dayAndTime(entry.observedAt, dayOne, timeZone), ...seen, ...paper].join(', ');
}
