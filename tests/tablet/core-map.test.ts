import { describe, expect, it } from 'vitest';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { coresOf } from '../../shared/plan/cores.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import {
  coreBeside,
  coreUnder,
  inMould,
  isWhole,
  type MapFrame,
  type MapView,
  moved,
  onCanvas,
  resized,
  showing,
  wholeMap,
  zoomed,
} from '../../src/tablet/parts/core-map/map-view.ts';

const cores = coresOf(buildPlan(practiceDesign));
const frame: MapFrame = { width: 480, height: 420, radius_mm: 1600, pitch_mm: 180 };
const whole = wholeMap(frame);
const at = (view: MapView, address: string) => {
  const core = cores.find((c) => c.address === address)!;
  return onCanvas(view, core.x_mm, core.y_mm);
};

describe('the view of the map', () => {
  it('shows the whole mould in the middle, +y up', () => {
    expect(at(whole, '0.1')).toEqual({ x: 240, y: 210 });
    expect(at(whole, '1.1').x).toBeGreaterThan(240);
    expect(at(whole, '1.2').y).toBeLessThan(210);
    const edge = onCanvas(whole, 0, 1600);
    expect(edge.y).toBeGreaterThan(0);
    expect(isWhole(frame, whole)).toBe(true);
  });

  it('keeps what is under the finger there while it grows, and goes back to the whole', () => {
    const finger = at(whole, '3.4');
    const grown = zoomed(frame, whole, 4, finger);
    expect(at(grown, '3.4').x).toBeCloseTo(finger.x, 6);
    expect(at(grown, '3.4').y).toBeCloseTo(finger.y, 6);
    expect(isWhole(frame, grown)).toBe(false);
    const back = zoomed(frame, grown, 1e-6, { x: 0, y: 0 });
    expect(back.x).toBeCloseTo(whole.x, 6);
    expect(back.scale).toBeCloseTo(whole.scale, 9);
  });

  it('cannot be moved off the mould, however far a finger goes, nor made larger than a few cores', () => {
    expect(moved(frame, whole, 500, -900)).toEqual(whole);
    const grown = zoomed(frame, whole, 1000, { x: 240, y: 210 });
    expect(grown.scale * frame.pitch_mm).toBeCloseTo(220, 6);
    for (const [dx, dy] of [
      [1e6, 0],
      [-1e6, 1e6],
      [0, -1e6],
    ] as const) {
      const middle = inMould(moved(frame, grown, dx, dy), frame.width / 2, frame.height / 2);
      expect(Math.max(Math.abs(middle.x_mm), Math.abs(middle.y_mm))).toBeLessThanOrEqual(1600);
    }
  });

  it('finds the core under a finger at any size, and none off the mould', () => {
    for (const view of [whole, zoomed(frame, whole, 3, { x: 100, y: 100 })]) {
      for (const core of cores.filter((_, i) => i % 7 === 0)) {
        const { x, y } = onCanvas(view, core.x_mm + 30, core.y_mm - 40);
        expect(coreUnder(cores, frame, view, x, y)).toBe(core);
      }
    }
    expect(coreUnder(cores, frame, whole, 2, 2)).toBeNull();
  });

  it('goes from core to core by arrows, to the nearest that lies that way', () => {
    const of = (address: string) => cores.find((c) => c.address === address)!;
    expect(coreBeside(cores, of('0.1'), 1, 0)?.address).toBe('1.1');
    expect(coreBeside(cores, of('0.1'), -1, 0)?.address).toBe('1.4');
    expect(['1.2', '1.3']).toContain(coreBeside(cores, of('0.1'), 0, 1)?.address);
    const last = cores.filter((c) => c.y_mm === 0).sort((a, b) => b.x_mm - a.x_mm)[0]!;
    expect(
      coreBeside(
        cores.filter((c) => c.y_mm === 0),
        last,
        1,
        0,
      ),
    ).toBeNull();
  });

  it('brings a chosen core into sight, and keeps the middle when the tablet is turned', () => {
    const grown = zoomed(frame, whole, 6, { x: 20, y: 20 });
    const far = cores.find((c) => c.address === '8.1')!;
    const shown = onCanvas(showing(frame, grown, far.x_mm, far.y_mm), far.x_mm, far.y_mm);
    expect(shown.x).toBeGreaterThanOrEqual(0);
    expect(shown.x).toBeLessThanOrEqual(frame.width);
    const turned = { ...frame, width: 360, height: 500 };
    expect(resized(frame, turned, whole)).toEqual(wholeMap(turned));
    const middle = inMould(grown, 240, 210);
    const after = inMould(resized(frame, turned, grown), 180, 250);
    expect(after.x_mm).toBeCloseTo(middle.x_mm, 6);
    expect(after.y_mm).toBeCloseTo(middle.y_mm, 6);
  });
});
