import type { HandoverState } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { paperOf } from './paper-of.ts';

interface Props {
  readonly view: View;
  readonly state: HandoverState;
}

/** The handover as it is printed: one page, which says what it leaves out and where that stands. */
export function Paper({ view, state: { handover, talk } }: Props) {
  const { items, dense, left, cut } = paperOf(handover.body.items, talk);
  return (
    <div class={`ho-paper ${dense ? 'ho-dense' : ''}`} aria-hidden="true">
      <ol>
        {items.map((item, i) => (
          <li key={item.item}>
            <b>
              {i + 1} {item.title}
            </b>
            {item.lines.map(({ text, asked, look }) => (
              <p key={`${asked}${text}`} class={look ? `ho-${look}` : ''}>
                {asked && <i>{asked}: </i>}
                {text}
              </p>
            ))}
            {item.left > 0 && (
              <p class="ho-left">
                <b>and {item.left} more, on the tablet</b>
              </p>
            )}
          </li>
        ))}
      </ol>
      {left + cut > 0 && (
        <p>
          <b>{leftWords(left, cut)}</b>
        </p>
      )}
      <p>
        {view.genesis.name}, handover {handover.hash.slice(0, 16)}, entry {handover.entry.seq} of its tablet
      </p>
    </div>
  );
}

/** What the page leaves out, and where all of it stands. */
function leftWords(left: number, cut: number): string {
  const lines = (n: number) => (n === 1 ? '1 line is' : `${n} lines are`);
  const said = [
    ...(left > 0 ? [`${lines(left)} left out of this page`] : []),
    ...(cut > 0 ? [`${lines(cut)} cut short`] : []),
  ];
  return `${said.join(', ')}. All of it stands on the tablet: Handover, or Record under the name below.`;
}
