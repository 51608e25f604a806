import type { Design } from '../../../../shared/plan/schema.ts';
import { Figure } from '../../parts/figure.tsx';
import { type BlankGeometry, blankGeometry } from './blank-geometry.ts';

/** Width of the drawing in its own units; a little more than the blank, for the line of the axis. */
const WIDTH = 480;
const MARGIN = 8;
/** Between the view from above and the section. */
const BETWEEN = 12;

/** One tenth of a unit is finer than any screen draws. */
const at = (x: number, y: number): string => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** The blank to scale: one half from above, and below it the section along the cut. */
export function BlankDrawing({ design }: { design: Design }) {
  const blank = blankGeometry(design);
  const scale = (WIDTH - 2 * MARGIN) / (2 * blank.radius_mm);
  const top = blank.radius_mm * scale + MARGIN;
  const foot = top + BETWEEN + blank.edge_mm * scale;
  const height = foot + MARGIN;
  return (
    <figure class="blank-drawing">
      <svg
        viewBox={`0 0 ${WIDTH} ${height.toFixed(1)}`}
        role="img"
        aria-label="The blank to scale: half of it from above with its cores, and the section through its middle"
      >
        <FromAbove blank={blank} scale={scale} foot={top} />
        <Section blank={blank} scale={scale} foot={foot} />
        <path class="axis" d={`M${WIDTH / 2} 0V${height.toFixed(1)}`} />
      </svg>
      <figcaption class="note">
        To scale. Half from above, cut cores dashed; below it the section. Centre{' '}
        <Figure value={blank.centre_mm} decimals={0} unit="mm" />, edge{' '}
        <Figure value={blank.edge_mm} decimals={0} unit="mm" />, face{' '}
        <Figure value={design.face_thickness_mm} decimals={0} unit="mm" />, back{' '}
        <Figure value={design.back_thickness_mm} decimals={0} unit="mm" />.
      </figcaption>
    </figure>
  );
}

type View = { blank: BlankGeometry; scale: number; foot: number };

function FromAbove({ blank, scale, foot }: View) {
  const radius = blank.radius_mm * scale;
  const half = `M${at(WIDTH / 2 - radius, foot)}A${radius.toFixed(1)} ${radius.toFixed(1)} 0 0 1 ${at(WIDTH / 2 + radius, foot)}Z`;
  const hexagons = (whole: boolean) =>
    blank.cores
      .filter((core) => core.whole === whole)
      .map((core) => hexagon(WIDTH / 2 + core.x * scale, foot - core.y * scale, blank.corner_mm * scale))
      .join('');
  return (
    <>
      <clipPath id="half-blank">
        <path d={half} />
      </clipPath>
      <path class="glass" d={half} />
      <g clip-path="url(#half-blank)">
        <path class="core" d={hexagons(true)} />
        <path class="core core-cut" d={hexagons(false)} />
      </g>
      <path class="outline" d={half} />
    </>
  );
}

/** A flat faces right, so a corner stands upright. */
function hexagon(x: number, y: number, corner: number): string {
  const corners = Array.from({ length: 6 }, (_, i) => {
    const turn = ((30 + 60 * i) * Math.PI) / 180;
    return at(x + corner * Math.cos(turn), y - corner * Math.sin(turn));
  });
  return `M${corners.join('L')}Z`;
}

function Section({ blank, scale, foot }: View) {
  const place = (x: number, y: number) => at(WIDTH / 2 + x * scale, foot - y * scale);
  const { radius_mm, face, pockets } = blank;
  const outline = `M${place(-radius_mm, 0)}L${face.map(([x, y]) => place(x, y)).join('L')}L${place(radius_mm, 0)}Z`;
  const hollow = pockets
    .map(
      (p) =>
        `M${place(p.left, p.bottom)}L${place(p.left, p.top)}L${place(p.right, p.top)}L${place(p.right, p.bottom)}Z`,
    )
    .join('');
  return (
    <>
      <path class="glass" d={outline} />
      <path class="core" d={hollow} />
      <path class="outline" d={outline} />
    </>
  );
}
