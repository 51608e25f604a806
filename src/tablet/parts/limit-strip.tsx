import { Diamond } from './diamond.tsx';
import { formatFigure } from './format-figure.ts';
import {
  LOWER_POST,
  type Stretch,
  type StripInput,
  type StripScale,
  stripScale,
  UPPER_POST,
} from './limit-strip-scale.ts';
import { stripWords } from './limit-strip-words.ts';
import type { Verdict } from './verdict.ts';
import './limit-strip.css';

/** Props of the limit strip. All numbers are in `unit`. */
export type LimitStripProps = StripInput & {
  /** S in cells and lists, M in rows, L over the keypad. */
  size: 'S' | 'M' | 'L';
  /** Worked out by the conformity calculation; null is not measured or not judged yet. */
  verdict: Verdict | null;
  decimals: number;
  unit: string;
  /** What is measured; said before the words. */
  label?: string | undefined;
  /** The words stand beside the strip already. */
  decorative?: boolean | undefined;
};

/** Px of each size: drawing height, base line, half posts, half hatch (0.62 of it), half diamond, pad at the ends. */
const SIZES = {
  S: { height: 14, axis: 7, post: 6, hatch: 3.7, diamond: 4, pad: 0.1, ends: 0 },
  M: { height: 24, axis: 12, post: 10, hatch: 6.2, diamond: 6.5, pad: 0.075, ends: 4 },
  L: { height: 62, axis: 30, post: 22, hatch: 13.6, diamond: 11, pad: 0.055, ends: 7 },
} as const;
type Size = (typeof SIZES)[keyof typeof SIZES];

const percent = (fraction: number): string => `${Math.round(fraction * 1e4) / 100}%`;

/** The limit strip: a rule with two posts, hatched where nothing is proven, and the value as a diamond. */
export function LimitStrip(props: LimitStripProps) {
  const { size, verdict, label, decorative } = props;
  const scale = stripScale(props);
  const px = SIZES[size];
  const words = stripWords(props);
  return (
    <span class={`strip strip-${size} ${verdict ?? 'unjudged'}`}>
      {!decorative && <span class="hidden-text">{label ? `${label}: ${words}` : words}</span>}
      <svg class={scale.diamond === null ? 'unmeasured' : ''} width="100%" height={px.height} aria-hidden="true">
        <Base scale={scale} px={px} />
        {size === 'L' && scale.kind !== 'none' && <Graduation axis={px.axis + px.post + 4} />}
        {size !== 'S' && scale.nominal !== null && (
          <Tick class="strip-nominal" at={scale.nominal} from={px.axis - px.post / 2} to={px.axis + px.post / 2} />
        )}
        <Value scale={scale} px={px} verdict={verdict} />
      </svg>
      {size !== 'S' && <Labels {...props} scale={scale} />}
    </span>
  );
}

function Tick(props: { class: string; at: number; from: number; to: number }) {
  return <line class={props.class} x1={percent(props.at)} x2={percent(props.at)} y1={props.from} y2={props.to} />;
}

function Bar({ class: name, stretch, y }: { class: string; stretch: Stretch; y: number }) {
  return <line class={name} x1={percent(stretch.from)} x2={percent(stretch.to)} y1={y} y2={y} />;
}

/** Far lines, clear bar, hatch and posts, from back to front. */
function Base({ scale, px }: { scale: StripScale; px: Size }) {
  if (scale.kind === 'none') return <PlainRule axis={px.axis} />;
  return (
    <>
      {scale.kind !== 'upper' && <Bar class="strip-far" stretch={{ from: 0, to: scale.posts[0]! }} y={px.axis} />}
      {scale.kind !== 'lower' && <Bar class="strip-far" stretch={{ from: scale.posts.at(-1)!, to: 1 }} y={px.axis} />}
      {scale.clear && <ClearBar scale={scale} clear={scale.clear} y={px.axis} />}
      {scale.hatch.map((zone) => (
        <rect
          key={zone.from}
          class="strip-hatch"
          fill="url(#hatch)"
          x={percent(zone.from)}
          width={percent(zone.to - zone.from)}
          y={px.axis - px.hatch}
          height={2 * px.hatch}
        />
      ))}
      {scale.superseded.map((at) => (
        <Tick key={at} class="strip-superseded" at={at} from={px.axis + px.post / 2} to={px.axis + px.post} />
      ))}
      {scale.posts.map((at) => (
        <Tick key={at} class="strip-post" at={at} from={px.axis - px.post} to={px.axis + px.post} />
      ))}
    </>
  );
}

/** Three shortening dashes say that the open end goes on. Fractions of the width, outwards. */
const DYING = [
  { from: 0.055, to: 0.09 },
  { from: 0.025, to: 0.045 },
  { from: 0.005, to: 0.015 },
];

function ClearBar({ scale, clear, y }: { scale: StripScale; clear: Stretch; y: number }) {
  const open = DYING[0]!.to + 0.02;
  if (scale.kind === 'two') return <Bar class="strip-clear" stretch={clear} y={y} />;
  const low = scale.kind === 'upper';
  const solid = low ? { from: open, to: clear.to } : { from: clear.from, to: 1 - open };
  return (
    <>
      {solid.to > solid.from && <Bar class="strip-clear" stretch={solid} y={y} />}
      {DYING.map(({ from, to }) => (
        <Bar key={from} class="strip-dying" stretch={low ? { from, to } : { from: 1 - to, to: 1 - from }} y={y} />
      ))}
    </>
  );
}

function PlainRule({ axis }: { axis: number }) {
  return (
    <>
      <Bar class="strip-nominal" stretch={{ from: 0, to: 1 }} y={axis} />
      {Array.from({ length: 11 }, (_, i) => (
        <Tick key={i} class="strip-nominal" at={i / 10} from={axis} to={axis + (i % 5 ? 3 : 6)} />
      ))}
    </>
  );
}

/** Twenty divisions between the limits, each fifth longer, going on to both ends. */
function Graduation({ axis }: { axis: number }) {
  const division = (UPPER_POST - LOWER_POST) / 20;
  return (
    <>
      {Array.from({ length: 35 }, (_, i) => i - 7).map((i) => (
        <Tick key={i} class="strip-scale" at={LOWER_POST + i * division} from={axis} to={axis + (i % 5 ? 3 : 6)} />
      ))}
    </>
  );
}

function Value({ scale, px, verdict }: { scale: StripScale; px: Size; verdict: Verdict | null }) {
  const { diamond, whisker, off } = scale;
  if (diamond === null) return null;
  const { axis, ends, pad, diamond: half } = px;
  const at = Math.min(1 - pad, Math.max(pad, diamond));
  // A whisker at the end of the strip would run behind a diamond that has been held back.
  const drawn = ends > 0 && at === diamond ? whisker : null;
  return (
    <>
      {drawn && (
        <g class="strip-whisker">
          <Bar class="" stretch={drawn} y={axis} />
          <Tick class="" at={drawn.from} from={axis - ends} to={axis + ends} />
          <Tick class="" at={drawn.to} from={axis - ends} to={axis + ends} />
        </g>
      )}
      <svg class="strip-value" x={percent(at)} y={axis} width="1" height="1" aria-hidden="true">
        <Diamond half={half} verdict={verdict} halo={ends > 0} />
        {off && <Chevron off={off} half={half} />}
      </svg>
    </>
  );
}

function Chevron({ off, half }: { off: 'low' | 'high'; half: number }) {
  const way = off === 'high' ? 1 : -1;
  const reach = half * 0.45;
  const start = half + 2 + reach / 2;
  return (
    <path class="strip-chevron" d={`M${way * start} ${-reach}l${way * reach} ${reach}l${-way * reach} ${reach}`} />
  );
}

/** Widths of a label, as a share of the strip: nearer to a post, two figures would stand over each other. */
const LABEL_ROOM = 0.16;

const hasRoom = ({ posts }: StripScale, nominal: number): boolean =>
  posts.every((post) => Math.abs(post - nominal) >= LABEL_ROOM);

/** Limits printed under their posts, nominal between them where there is room. */
function Labels(props: LimitStripProps & { scale: StripScale }) {
  const { scale, size, lower, upper, nominal, decimals } = props;
  if (scale.kind === 'none') return <span class="strip-labels strip-free">no limits</span>;
  const figure = (value: number) => formatFigure(value, { decimals, signed: nominal === 0 });
  const limits = [scale.kind === 'upper' ? null : lower, scale.kind === 'lower' ? null : upper].filter(
    (v) => v !== null,
  );
  return (
    <span class="strip-labels n" aria-hidden="true">
      {limits.map((limit, i) => (
        <span key={limit} style={{ left: percent(scale.posts[i]!) }}>
          {figure(limit)}
        </span>
      ))}
      {size === 'L' && nominal !== null && scale.nominal !== null && hasRoom(scale, scale.nominal) && (
        <span class="strip-middle" style={{ left: percent(scale.nominal) }}>
          {figure(nominal)}
        </span>
      )}
    </span>
  );
}
