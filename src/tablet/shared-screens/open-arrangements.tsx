import { openArrangements } from '../../../shared/logbook/state/arrangements.ts';
import type { View } from '../../../shared/logbook/state/view.ts';
import { now } from '../app/time.ts';
import { Sheet } from '../parts/sheet.tsx';
import { ArrangementRow } from './arrangement-row.tsx';

interface Props {
  readonly view: View;
  readonly kind: 'channel' | 'instrument';
  /** The words of the link to the form. */
  readonly make: string;
  readonly class?: string;
}

/** The open arrangements about channels or about instruments, and the way to make one. */
export function OpenArrangements({ view, kind, make, class: extra }: Props) {
  const open = openArrangements(view).filter((a) => a.line.body.subject.kind === kind);
  const now_ms = now.value.getTime();
  return (
    <Sheet title="Temporary arrangements" aside={open.length === 0 ? 'none open' : `${open.length} open`} class={extra}>
      <ul class="rows">
        {open.map((arrangement) => (
          <li key={arrangement.id}>
            <ArrangementRow view={view} arrangement={arrangement} now_ms={now_ms} />
          </li>
        ))}
        <li>
          <a class="row" href={`/arrangements?new=${kind}`}>
            <span class="grow">{make}</span>
          </a>
        </li>
      </ul>
    </Sheet>
  );
}
