import type { ComponentChildren } from 'preact';
import { CoreHexagon } from './core-hexagon.tsx';
import { type CoreMark, coreMarkWords } from './core-mark.ts';
import './core-seven.css';

/** A core beside the one that is looked at. */
export interface BesideCore {
  readonly address: string;
  readonly angle_deg: number;
  readonly mark: CoreMark;
  /** What stands in the gap between the two, with its verdict; left out where gaps are not looked at. */
  readonly gap?: ComponentChildren;
  /** The gap is the one that is worked on. */
  readonly current?: boolean;
  /** What a tap does, in words: "gap to core 7.17". */
  readonly words: string;
}

export interface CoreSevenProps {
  readonly address: string;
  readonly mark: CoreMark;
  readonly beside: readonly BesideCore[];
  readonly onBeside: (address: string) => void;
}

/** Where the six lie in the box, in hundredths of it: centre to centre 33. */
const APART = 33;

/** A core and the six around it, large enough for a glove: a tap takes the gap to a neighbour, or the neighbour. */
export function CoreSeven({ address, mark, beside, onBeside }: CoreSevenProps) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset takes no shape of its own
    <div
      class="core-seven"
      role="group"
      aria-label={`Core ${address}, ${coreMarkWords[mark]}, and the cores beside it`}
    >
      <span class="core-seven-place core-seven-centre" style={placeAt(0, 0)} aria-hidden="true">
        <CoreHexagon mark={mark} />
        <b class="n">{address}</b>
      </span>
      {beside.map((core) => (
        <button
          key={core.address}
          type="button"
          class="core-seven-place"
          aria-pressed={core.current ?? false}
          aria-label={core.words}
          style={placeAt(APART, core.angle_deg)}
          onClick={() => onBeside(core.address)}
        >
          {core.gap ?? <CoreHexagon mark={core.mark} />}
          <span class="n note">{core.address}</span>
        </button>
      ))}
    </div>
  );
}

function placeAt(apart: number, angle_deg: number): { left: string; top: string } {
  const angle = (angle_deg * Math.PI) / 180;
  return { left: `${50 + apart * Math.cos(angle)}%`, top: `${50 - 1.13 * apart * Math.sin(angle)}%` };
}
