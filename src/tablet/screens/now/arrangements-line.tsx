import { arrangementStatus } from '../../../../shared/logbook/state/arrangement-status.ts';
import type { ArrangementFacts } from '../../app/now-shard.ts';
import { now } from '../../app/time.ts';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { endWords } from '../../shared-screens/arrangement-words.ts';

interface Props {
  readonly open: readonly ArrangementFacts[];
  readonly zone: { readonly timeZone: string; readonly dayOne: string };
}

/** A quiet line while arrangements are open; those past their end each say so, with their owner. */
export function ArrangementsLine({ open, zone }: Props) {
  if (open.length === 0) return null;
  const now_ms = now.value.getTime();
  const overdue = open.filter((a) => arrangementStatus({ ...a, ended: null }, now_ms) === 'overdue');
  const quiet = open.filter((a) => !overdue.includes(a));
  return (
    <Sheet label="Temporary arrangements">
      <ul class="rows">
        {overdue.map((a) => (
          <li key={a.id}>
            <a class="row wants-hand" href={`/arrangements/${a.id}`}>
              <Sign sign="late" />
              <span class="grow">
                <b>Past its end: {a.what}</b>
                <span class="second small">
                  {endWords(zone, a, now_ms)}; owner {a.owner}. End it or extend it.
                </span>
              </span>
            </a>
          </li>
        ))}
        {quiet[0] && (
          <li>
            <a class="row" href="/arrangements">
              <span class="grow small">
                {quiet.length === 1 ? '1 temporary arrangement' : `${quiet.length} temporary arrangements`} open; the
                first {endWords(zone, quiet[0], now_ms)}
              </span>
            </a>
          </li>
        )}
      </ul>
    </Sheet>
  );
}
