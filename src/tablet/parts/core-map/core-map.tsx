import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import './core-map.css';
import type { MapCore } from './core-mark.ts';
import { type Colours, coloursOf, drawMap, type Shapes, shapesOf } from './draw-map.ts';
import { handsOn } from './map-hands.ts';
import {
  coreBeside,
  coreUnder,
  isWhole,
  type MapFrame,
  type MapView,
  moved,
  onCanvas,
  resized,
  showing,
  wholeMap,
  zoomed,
} from './map-view.ts';

export interface CoreMapProps {
  /** What is drawn, for a screen reader. */
  readonly label: string;
  readonly cores: readonly MapCore[];
  readonly pitch_mm: number;
  readonly across_mm: number;
  /** Of the mould. */
  readonly radius_mm: number;
  /** What is worked at: a core, or the two beside a gap, the chosen one first. */
  readonly chosen: readonly string[];
  /** What a screen reader hears when the choice moves. */
  readonly chosenWords: string;
  readonly onChoose: (address: string) => void;
  /** Enter on the map: go to work on the core that is chosen. */
  readonly onEnter?: (() => void) | undefined;
}

/** One press of a key or a button. */
const STEP = 1.6;
const KEY_PX = 80;

/** What the canvas is drawn from, outside the tree of components: a frame of a pan draws no component anew. */
interface Scene {
  frame: MapFrame;
  view: MapView;
  shapes: Shapes;
  colours: Colours;
  chosen: readonly string[];
}

/** All cores of the mould from above. Fingers, wheel and keys move it and make it larger; a tap chooses a core. */
export function CoreMap(props: CoreMapProps) {
  const { label, cores, pitch_mm, across_mm, radius_mm, chosen, chosenWords } = props;
  const box = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const scene = useRef<Scene | null>(null);
  const wanted = useRef(0);
  const latest = useRef(props);
  latest.current = props;
  const shapes = useMemo(() => shapesOf(cores, across_mm), [cores, across_mm]);

  const draw = () => {
    wanted.current = 0;
    const ctx = canvas.current?.getContext('2d');
    if (ctx && scene.current) drawMap(ctx, { ...scene.current, sharpness: devicePixelRatio });
  };
  const redraw = () => {
    if (wanted.current === 0) wanted.current = requestAnimationFrame(draw);
  };
  const show = (view: MapView) => {
    const now = scene.current;
    if (!now) return;
    now.view = view;
    // A whole map leaves the finger that strokes up or down to the page.
    canvas.current!.style.touchAction = isWhole(now.frame, view) ? 'pan-y' : 'none';
    redraw();
  };
  const act = (change: (scene: Scene) => MapView) => scene.current && show(change(scene.current));
  const middle = ({ frame }: Scene) => ({ x: frame.width / 2, y: frame.height / 2 });
  /** A key or a button enlarges about the core that is chosen, and brings it to the middle. */
  const larger = (factor: number) =>
    act((s) => {
      const at = s.shapes.cores.find((c) => c.address === s.chosen[0]);
      const grown = zoomed(s.frame, s.view, factor, middle(s));
      if (!at || factor < 1) return grown;
      const { x, y } = onCanvas(grown, at.x_mm, at.y_mm);
      return moved(s.frame, grown, middle(s).x - x, middle(s).y - y);
    });

  useLayoutEffect(() => {
    const element = box.current!;
    const measure = () => {
      const { clientWidth: width, clientHeight: height } = element;
      if (width === 0 || height === 0) return;
      const frame = { width, height, radius_mm, pitch_mm };
      canvas.current!.width = Math.round(width * devicePixelRatio);
      canvas.current!.height = Math.round(height * devicePixelRatio);
      const before = scene.current;
      scene.current = {
        frame,
        view: before ? resized(before.frame, frame, before.view) : wholeMap(frame),
        shapes: before?.shapes ?? shapes,
        colours: coloursOf(element),
        chosen: before?.chosen ?? chosen,
      };
      show(scene.current.view);
      // A canvas of a new size is empty until it is drawn: not one frame of that.
      cancelAnimationFrame(wanted.current);
      draw();
    };
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    const recolour = () => {
      if (scene.current) scene.current.colours = coloursOf(element);
      redraw();
    };
    const theme = matchMedia('(prefers-color-scheme: dark)');
    theme.addEventListener('change', recolour);
    const chosenTheme = new MutationObserver(recolour);
    chosenTheme.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    const release = handsOn(canvas.current!, {
      frame: () => scene.current!.frame,
      view: () => scene.current!.view,
      show,
      tap: (x, y) => {
        const { frame, view, shapes: drawn } = scene.current!;
        const core = coreUnder(drawn.cores, frame, view, x, y);
        if (core) latest.current.onChoose(core.address);
      },
    });
    return () => {
      watch.disconnect();
      chosenTheme.disconnect();
      theme.removeEventListener('change', recolour);
      release();
      cancelAnimationFrame(wanted.current);
      wanted.current = 0;
    };
  }, [radius_mm, pitch_mm]);

  const [core] = chosen;
  useEffect(() => {
    const now = scene.current;
    if (!now) return;
    const isNew = now.chosen[0] !== core;
    if (now.shapes === shapes && now.chosen.join() === chosen.join()) return;
    Object.assign(now, { shapes, chosen });
    const at = shapes.cores.find((c) => c.address === core);
    if (isNew && at) show(showing(now.frame, now.view, at.x_mm, at.y_mm));
    else redraw();
  }, [shapes, chosen.join()]);

  const step = (dx: number, dy: number) => {
    const open = cores.filter((c) => !c.faint);
    const from = cores.find((c) => c.address === core) ?? cores[0];
    const to = from && coreBeside(open, from, dx, dy);
    if (to) props.onChoose(to.address);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const arrow = ARROWS[event.key];
    if (arrow && event.shiftKey) act((s) => moved(s.frame, s.view, -KEY_PX * arrow[0], KEY_PX * arrow[1]));
    else if (arrow) step(...arrow);
    else if (event.key === '+' || event.key === '=') larger(STEP);
    else if (event.key === '-') larger(1 / STEP);
    else if (event.key === 'Home') act((s) => wholeMap(s.frame));
    else if (event.key === 'Enter' && props.onEnter) props.onEnter();
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div class="core-map">
      <div
        ref={box}
        class="core-map-canvas"
        role="application"
        aria-label={label}
        aria-roledescription="map"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: keys must reach it
        tabIndex={0}
        onKeyDown={onKeyDown}
      >
        <canvas ref={canvas} />
        <span class="hidden-text">
          Arrow keys go from core to core, with Shift they move the map; plus and minus make it larger and smaller, Home
          shows it whole.
        </span>
      </div>
      <p class="hidden-text" aria-live="polite">
        {chosenWords}
      </p>
      <button
        type="button"
        class="button core-map-whole"
        aria-label="Show the whole map"
        onClick={() => act((s) => wholeMap(s.frame))}
      >
        Whole
      </button>
      <button type="button" class="button core-map-larger" aria-label="Larger" onClick={() => larger(STEP)}>
        +
      </button>
      <button type="button" class="button core-map-smaller" aria-label="Smaller" onClick={() => larger(1 / STEP)}>
        −
      </button>
    </div>
  );
}

const ARROWS: Readonly<Record<string, [dx: number, dy: number]>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
