import { type Arrangement, arrangementStatus } from '../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { dayAndTime } from '../app/time.ts';
import { Sign } from '../parts/icons.tsx';
import { aboutWords, endWords } from './arrangement-words.ts';

const STATUS = { open: 'open', due: 'due to end', overdue: 'past its end', ended: 'ended' } as const;

export const statusWords = (arrangement: Arrangement, now_ms: number): string =>
  STATUS[arrangementStatus(arrangement, now_ms)];

/** A temporary arrangement in a list: what, whose, until when. It leads to its own screen. */
export function ArrangementRow({
  view,
  arrangement,
  now_ms,
}: {
  view: View;
  arrangement: Arrangement;
  now_ms: number;
}) {
  const { line, ended, endsAt_ms, id } = arrangement;
  const { what, subject, owner, endsWhen } = line.body;
  const status = arrangementStatus(arrangement, now_ms);
  const name = view.standing.person(owner)?.name ?? 'somebody not admitted';
  const until = ended
    ? `ended ${dayAndTime(ended.entry.observedAt, view.genesis.dayOne, view.genesis.timeZone)}`
    : endWords(view.genesis, { endsAt_ms, endsWhen }, now_ms);
  return (
    <a class={`row ${status === 'overdue' ? 'wants-hand' : ''}`} href={`/arrangements/${id}`}>
      {status === 'overdue' && <Sign sign="late" />}
      <span class="grow">
        <b>{what}</b>
        <span class="second small">{[aboutWords(subject), `owner ${name}`, until].filter(Boolean).join(' · ')}</span>
      </span>
      <span class="small">{STATUS[status]}</span>
    </a>
  );
}
