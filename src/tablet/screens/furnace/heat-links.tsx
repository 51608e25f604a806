import { Sheet } from '../../parts/sheet.tsx';

const LINKS = [
  { href: '/heat/chart', name: 'Chart', words: 'plan, samples and rounds of all heats' },
  { href: '/heat/channel/CR-1', name: 'Channels', words: 'sensors, drift of pairs, corrections' },
  { href: '/heat/plan/P1', name: 'Heat plans', words: 'curve, time and stress, segment by segment' },
  { href: '/heat/files', name: 'Logger files', words: 'samples beside the rounds' },
];

/** What belongs to all heats. */
export function HeatLinks() {
  return (
    <Sheet title="All heats">
      <ul class="rows">
        {LINKS.map(({ href, name, words }) => (
          <li key={href}>
            <a class="row" href={href}>
              <span class="grow">
                <b>{name}</b>
                <span class="second small dim">{words}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
