import { sentence } from '../../../../shared/logbook/state/handover/preparing.ts';
import { itemsToTalk, openHandovers } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { HandoverFacts } from '../../app/now-shard.ts';
import { dayAndTime } from '../../app/time.ts';

/** The handovers that nobody has accepted, as the first screen says them. */
export function handoverFacts(view: View): HandoverFacts[] {
  const { dayOne, timeZone } = view.genesis;
  return openHandovers(view).map((state) => {
    const { hash, body, entry } = state.handover;
    const of = body.items.length;
    const refused = state.refusals.at(-1)?.body;
    const when = dayAndTime(entry.recordedAt, dayOne, timeZone);
    const talked = of - itemsToTalk(state).length;
    return refused
      ? {
          hash,
          title: `Refused by ${refused.name}`,
          words: `${sentence(refused.refused.map((r) => r.reason).join('; '))} Prepared by ${body.name}, ${when}: mend it and hand over again.`,
          refused: true,
        }
      : {
          hash,
          title: `Prepared by ${body.name}, not accepted`,
          words: `${when}, ${talked} of ${of} items talked through`,
          refused: false,
        };
  });
}
