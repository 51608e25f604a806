import type { Verdict } from './verdict.ts';
import './diamond.css';

type DiamondProps = {
  /** Half the width and height, in px. */
  half: number;
  verdict: Verdict | null;
  /** Centre in the user space of the drawing; 0, 0 where the drawing has moved already. */
  x?: number | undefined;
  y?: number | undefined;
  /** Clears the ground behind it, so that lines do not run into it. */
  halo?: boolean | undefined;
};

/** The value, everywhere: solid is within, half open is not proven, open and thick is outside. */
export function Diamond({ half, verdict, x = 0, y = 0, halo }: DiamondProps) {
  const outline = `${x - half},${y} ${x},${y - half} ${x + half},${y} ${x},${y + half}`;
  return (
    <g class={`diamond ${verdict ?? 'unjudged'}`}>
      {halo && <polygon class="diamond-halo" points={outline} />}
      <polygon class="diamond-edge" points={outline} />
      {verdict === 'not-proven' && <polygon points={`${x - half},${y} ${x},${y - half} ${x},${y + half}`} />}
    </g>
  );
}
