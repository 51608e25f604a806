import { NOT_ASKED } from '../../../../../shared/logbook/state/core-marks.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { neighboursOf } from '../../../../../shared/plan/cores.ts';
import type { Characteristic } from '../../../../../shared/plan/schema.ts';
import { type BesideCore, CoreSeven } from '../../../parts/core-map/core-seven.tsx';
import { Diamond } from '../../../parts/diamond.tsx';
import { Figure } from '../../../parts/figure.tsx';
import { verdictWord } from '../../../parts/verdict.ts';
import { shownNow } from '../shown.ts';
import { stateWords } from './core-words.ts';
import { type GapBeside, gapsBeside } from './gaps-beside.ts';
import type { CoreStates } from './use-core-states.ts';

/** The chosen core and those around it, with the gaps between them where the operation reads gaps. */
export function Seven(props: {
  view: View;
  operation: string;
  /** The characteristic whose stations are pairs; null where gaps are not read. */
  gaps: Characteristic | null;
  /** Null while they are being counted: then the gaps are not looked up either. */
  states: CoreStates | null;
  address: string;
  /** The core on the other side of the gap that is worked on. */
  other: string | null;
  onBeside: (address: string) => void;
}) {
  const { view, operation, gaps, states, address, other, onBeside } = props;
  const between = gaps && states ? gapsBeside(view, operation, gaps, address) : new Map<string, GapBeside>();
  const beside = neighboursOf(view.plan, address).map((core): BesideCore => {
    const state = states?.get(core.address) ?? NOT_ASKED;
    const gap = between.get(core.address);
    const words = gap ? `Gap to core ${core.address}: ${gapWords(gap)}` : `Core ${core.address}: ${stateWords(state)}`;
    return {
      ...core,
      mark: state.mark,
      words,
      current: core.address === other,
      ...(gap && gaps ? { gap: <GapValue gap={gap} characteristic={gaps} /> } : {}),
    };
  });
  const own = states?.get(address) ?? NOT_ASKED;
  return <CoreSeven address={address} mark={own.mark} beside={beside} onBeside={onBeside} />;
}

function GapValue({ gap, characteristic }: { gap: GapBeside; characteristic: Characteristic }) {
  const { value, decimals } = shownNow(characteristic);
  if (gap.value === null) return <span class="n dim">–</span>;
  return (
    <span class={`seven-gap ${gap.verdict ?? ''}`}>
      {gap.verdict !== null && gap.verdict !== 'within' && (
        <svg width="13" height="13" viewBox="-7 -7 14 14" aria-hidden="true">
          <Diamond half={5} verdict={gap.verdict} />
        </svg>
      )}
      <Figure value={value(gap.value)} decimals={decimals} />
      {gap.done < gap.stations.length && <span class="note n">{`${gap.done}/${gap.stations.length}`}</span>}
    </span>
  );
}

function gapWords(gap: GapBeside): string {
  if (gap.value === null) return 'not measured';
  const verdict = gap.verdict === null ? '' : `, ${verdictWord(gap.verdict)}`;
  return `${gap.value}${verdict}, ${gap.done} of ${gap.stations.length} places`;
}
