import { IN_A_ROW, type Stability, stabilityWords } from '../../../../../shared/logbook/state/stability.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { operationById } from '../../../../../shared/plan/lookup.ts';
import { Figure } from '../../../parts/figure.tsx';
import { Sheet } from '../../../parts/sheet.tsx';
import { limitWords } from '../../../shared-screens/limit-words.ts';
import { shownNow } from '../shown.ts';

const sentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;

/** Whether the heats change it any more: heat by heat, how many stations are proven to have changed less than the limit. */
export function RestSheet({ view, found }: { view: View; found: Stability }) {
  const { limitedBy, limit, heats } = found;
  const shown = shownNow(limitedBy);
  return (
    <Sheet title="At rest" aside={found.stable === null ? 'not known yet' : found.stable ? 'stable' : 'not stable'}>
      <p class="pad">
        {sentence(stabilityWords(found))} The limit of one station:{' '}
        {limitWords(shown.limits({ nominal: 0, ...limit }), shown)}, each with its uncertainty. It counts as stable
        after {IN_A_ROW} such heats in a row.
      </p>
      {heats.length > 0 && (
        <ul class="rows">
          {heats.map((heat) => (
            <li key={heat.after}>
              <p class="row change-heat">
                <span class="grow">
                  <b>{heat.heats.map((id) => operationById(view.plan, id)?.name ?? id).join(', ')}</b>
                  <span class="second small dim">
                    from operation {heat.before} to {heat.after}
                    {heat.complete ? '' : `, ${heat.stations === 0 ? 'no' : 'not every'} station read in both`}
                  </span>
                </span>
                {heat.stations > 0 && (
                  <span>
                    <span class="n">
                      {heat.less} of {heat.stations}
                    </span>{' '}
                    less than the limit; most{' '}
                    <Figure value={shown.span(heat.most)} decimals={shown.decimals} unit={shown.unit} signed />
                  </span>
                )}
              </p>
            </li>
          ))}
        </ul>
      )}
    </Sheet>
  );
}
