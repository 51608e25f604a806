import { Diamond } from '../diamond.tsx';
import type { CoreMark } from './core-mark.ts';
import './core-hexagon.css';

/** The mark of a core as the map draws it, for lists and the legend. */
export function CoreHexagon({ mark }: { mark: CoreMark }) {
  return (
    <svg class={`core-hexagon core-${mark}`} width="26" height="28" viewBox="-13 -14 26 28" aria-hidden="true">
      <polygon class="core-outline" points="0,-12.5 10.8,-6.25 10.8,6.25 0,12.5 -10.8,6.25 -10.8,-6.25" />
      {mark === 'within' && <circle r="2.4" />}
      {mark === 'begun' && <circle cx="-4.5" r="2.2" />}
      {mark === 'begun' && <line x1="0" x2="7" y1="0" y2="0" />}
      {mark === 'missing' && <line x1="-4" x2="4" y1="0" y2="0" />}
      {(mark === 'outside' || mark === 'not-proven') && <Diamond half={6} verdict={mark} />}
    </svg>
  );
}
