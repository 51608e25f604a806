import './gate.css';

/** The state of a hold point; `not-reached` is open, with the work still far off. */
export type GateState = 'open' | 'ready' | 'released' | 'in-doubt' | 'not-reached';

const WORDS: Record<GateState, string> = {
  open: 'open',
  ready: 'ready to sign',
  released: 'released',
  'in-doubt': 'in doubt',
  'not-reached': 'not reached',
};

/** The word that always stands beside a gate. */
export const gateWord = (state: GateState): string => WORDS[state];

/** Px of one drawing: where the posts stand, their top and foot, the arm, and the strokes. */
type Shape = {
  width: number;
  height: number;
  left: number;
  right: number;
  top: number;
  foot: number;
  arm: number;
  post: number;
  bar: number;
};
const SMALL: Shape = { width: 20, height: 24, left: 4, right: 16, top: 2, foot: 20, arm: 9, post: 2, bar: 3.4 };
const MIDDLE: Shape = { width: 48, height: 56, left: 9, right: 39, top: 4, foot: 50, arm: 18, post: 4, bar: 7 };
const LARGE: Shape = { width: 300, height: 128, left: 118, right: 182, top: 20, foot: 98, arm: 48, post: 7, bar: 12 };

export type GateProps = {
  state: GateState;
  /** Px: 20 for the spine, 48 for sheets. */
  size: 20 | 48;
  /** The word stands beside it already. */
  decorative?: boolean | undefined;
};

/** A hold point: the two posts of the limit strip with an arm across. */
export function Gate({ state, size, decorative }: GateProps) {
  const shape = size === 20 ? SMALL : MIDDLE;
  return (
    <span class={`gate gate-${state}`}>
      <svg viewBox={`0 0 ${shape.width} ${shape.height}`} width={shape.width} height={shape.height} aria-hidden="true">
        <GateDrawing state={state} shape={shape} />
      </svg>
      {!decorative && <span class="hidden-text">{gateWord(state)}</span>}
    </span>
  );
}

/** The gate on its road, for the hold screen: the work done comes up to it. */
export function GateOnRoad({ state }: { state: GateState }) {
  const { width, height, foot, left } = LARGE;
  const done = { released: width, 'not-reached': left / 3 }[state as string] ?? left - 6;
  const division = (i: number) => `M${6 + 8 * i} ${foot}v${i % 5 ? 6 : 12}`;
  return (
    <svg class={`gate-on-road gate-${state}`} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      <path class="road" d={`M0 ${foot}H${width}${Array.from({ length: 37 }, (_, i) => division(i)).join('')}`} />
      <path class="road-done" d={`M0 ${foot}H${done}`} />
      <GateDrawing state={state} shape={LARGE} />
    </svg>
  );
}

function GateDrawing({ state, shape }: { state: GateState; shape: Shape }) {
  const { left, right, top, foot, post } = shape;
  const far = state === 'not-reached';
  return (
    <g class="gate-drawing">
      <path d={`M${left} ${top}V${foot}M${right} ${top}V${foot}`} stroke-width={far ? post * 0.7 : post} />
      <Arm state={state} shape={shape} />
      <Seal state={state} shape={shape} />
    </g>
  );
}

function Arm({ state, shape: { left, right, arm, bar, top } }: { state: GateState; shape: Shape }) {
  const middle = (left + right) / 2;
  const gap = (right - left) * 0.2;
  if (state === 'released') return null;
  if (state !== 'in-doubt') {
    return <path d={`M${left} ${arm}H${right}`} stroke-width={state === 'not-reached' ? bar * 0.55 : bar} />;
  }
  // The arm is broken, and what stands in the break is solid.
  const reach = (arm - top) * 0.75;
  return (
    <>
      <path d={`M${left} ${arm}H${middle - gap}M${middle + gap} ${arm}H${right}`} stroke-width={bar} />
      <path d={`M${middle} ${arm - reach}V${arm + reach}`} stroke-width={bar * 0.8} />
    </>
  );
}

/** Empty and dashed, a signing line, or solid. The small gate has no room for an empty one. */
function Seal({ state, shape }: { state: GateState; shape: Shape }) {
  const { left, right, foot, arm, post, bar } = shape;
  const middle = (left + right) / 2;
  const centre = state === 'released' ? (arm + foot) / 2 - bar * 0.35 : (arm + bar / 2 + foot) / 2;
  const radius = (right - left) * 0.22;
  if (state === 'released') return <circle class="seal" cx={middle} cy={centre} r={(right - left) * 0.29} />;
  if (state === 'ready') return <path d={`M${left + post} ${foot - post / 2}H${right - post}`} stroke-width={post} />;
  if (state === 'in-doubt') return <circle class="seal" cx={middle} cy={foot - bar * 0.8} r={bar * 0.5} />;
  if (state === 'not-reached' || shape === SMALL) return null;
  return (
    <circle
      cx={middle}
      cy={centre}
      r={radius}
      stroke-width={post * 0.4}
      stroke-dasharray={`${post * 0.6} ${post * 0.5}`}
    />
  );
}

/** A gate's word in its frame: ink for open, index for ready, red for in doubt. */
export function GateWord({ state }: { state: GateState }) {
  return <span class={`tag gate-word gate-${state}`}>{gateWord(state)}</span>;
}
