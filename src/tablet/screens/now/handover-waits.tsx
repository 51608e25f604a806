import type { HandoverFacts } from '../../app/now-shard.ts';
import { ConditionMark } from '../../parts/condition-mark.tsx';
import { Sheet } from '../../parts/sheet.tsx';

/** Handovers that nobody has accepted: they stay here until somebody does. */
export function HandoverWaits({ handovers }: { handovers: readonly HandoverFacts[] }) {
  if (handovers.length === 0) return null;
  return (
    <Sheet title="Handover">
      <ul class="rows">
        {handovers.map(({ hash, title, words, refused }) => (
          <li key={hash} class={refused ? 'wants-hand' : ''}>
            <a class="row" href={`/handover/${hash}`}>
              <ConditionMark condition={refused ? 'blocks' : 'not-yet'} decorative />
              <span class="grow">
                <b>{title}</b>
                <span class="second small dim">{words}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
