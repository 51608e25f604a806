import { describe, expect, it } from 'vitest';
import { coolingRate } from '../../shared/calculations/cooling-rate.ts';
import { coolingStress } from '../../shared/calculations/cooling-stress.ts';
import { slotFill } from '../../shared/calculations/slot-fill.ts';
import { viscoelasticSlab } from '../../shared/calculations/viscoelastic-slab.ts';
import { viscosity } from '../../shared/calculations/viscosity.ts';
import { describeOutsideChecks, errorOf, expectRelative, resultOf, workingOf } from './outside-checks.ts';

/** Viscosity of borosilicate 3.3 (ISO 3585) at annealing, softening and working point: public data sheet. */
const points = [
  { temperature_C: 560, log10_Pa_s: 12 },
  { temperature_C: 825, log10_Pa_s: 6.6 },
  { temperature_C: 1260, log10_Pa_s: 3 },
];
const glass = { diffusivity_mm2_s: 0.6, modulus_GPa: 64, poisson: 0.2, expansion_per_K: 3.3e-6 };
const whole = { half_thickness_mm: 202.5, ...glass };
/** One that settles within the hour, so that a test runs through its whole range. */
const thin = { half_thickness_mm: 50, ...glass };

/** Even cooling from one temperature to another, then held until the slab is even again. */
function ramp(body: typeof whole, rate_K_h: number, from_C: number, to_C: number) {
  const hours = (from_C - to_C) / rate_K_h;
  const even_h = (6 * body.half_thickness_mm ** 2) / body.diffusivity_mm2_s / 3600;
  return [
    { at_h: 0, surface_C: from_C },
    { at_h: hours, surface_C: to_C },
    { at_h: hours + even_h, surface_C: to_C },
  ];
}

const run = (body: typeof whole, record: ReturnType<typeof ramp>, more: Record<string, number> = {}) =>
  resultOf(viscoelasticSlab, { ...body, points, record, ...more });

describeOutsideChecks(viscoelasticSlab);

describe('viscoelastic-slab', () => {
  it('keeps what the closed formula says of a steady rate through the range, and proportionally less of a slower one', () => {
    const kept = [2, 0.5].map((rate_K_h) => {
      const slab = run(thin, ramp(thin, rate_K_h, 620, 380));
      const closed = resultOf(coolingStress, { ...thin, rate_K_h });
      expectRelative(slab.permanent_centre_stress_MPa, closed.permanent_centre_stress_MPa, 2e-3);
      expectRelative(slab.permanent_surface_stress_MPa, closed.permanent_surface_stress_MPa, 2e-3);
      return slab.permanent_centre_stress_MPa;
    });
    expectRelative(kept[0]! / kept[1]!, 4, 2e-3);
  });

  it('keeps nothing of an infinitely slow cooling: what stays goes to nothing with the rate', () => {
    // A tenth of the rate, a tenth of the stress, down to a millionth of what glass bears.
    for (const rate_K_h of [1e-1, 1e-2, 1e-3]) {
      const slab = run(whole, [
        { at_h: 0, surface_C: 580 },
        { at_h: 80 / rate_K_h, surface_C: 500 },
        { at_h: 80 / rate_K_h + 150, surface_C: 500 },
      ]);
      // Still a little relaxing at 500 °C, so at most what the closed formula says.
      expect(Math.abs(slab.permanent_surface_stress_MPa)).toBeLessThan(1.68 * rate_K_h);
      expect(slab.greatest_tension_MPa).toBeLessThan(1.68 * rate_K_h);
    }
  });

  it('relaxes fully in a long soak: a quenched slab held at the annealing point has nothing left', () => {
    // Chilled by 30 K in a minute from 600 °C, and held at 570 °C.
    const chilled = run(thin, [
      { at_h: 0, surface_C: 600 },
      { at_h: 1 / 60, surface_C: 540 },
      { at_h: 0.05, surface_C: 540 },
    ]);
    expect(Math.abs(chilled.surface_stress_MPa)).toBeGreaterThan(0.3);
    const held = run(thin, [
      { at_h: 0, surface_C: 600 },
      { at_h: 1 / 60, surface_C: 540 },
      { at_h: 0.05, surface_C: 560 },
      { at_h: 48, surface_C: 560 },
    ]);
    for (const stress of [held.surface_stress_MPa, held.centre_stress_MPa, held.permanent_centre_stress_MPa])
      expect(Math.abs(stress)).toBeLessThan(1e-9);
  });

  it('lets a stress fall as Maxwell’s law says: to 1/e in 3(1 − ν)/(1 + ν) η/G, twice η/G for ν = 0.2', () => {
    // A very thin slab is even at once, so that only the soak acts on what a quench from the fluid left.
    const quench = [
      { at_h: 0, surface_C: 640 },
      { at_h: 0.001, surface_C: 540 },
      { at_h: 0.4, surface_C: 540 },
    ];
    const plate = { half_thickness_mm: 12, ...glass };
    const log10 = resultOf(viscosity, { points, temperature_C: 540 }).log10_Pa_s as number;
    const shear_Pa = 64e9 / 2.4;
    const after_h = (2 * 10 ** log10) / shear_Pa / 3600;
    const before = run(plate, quench);
    const after = run(plate, [...quench, { at_h: 0.4 + after_h, surface_C: 540 }]);
    expect(Math.abs(before.centre_stress_MPa)).toBeGreaterThan(0.05);
    expectRelative(after.centre_stress_MPa / before.centre_stress_MPa, Math.exp(-1), 5e-3);
    expectRelative(before.relaxation_time_h as number, after_h, 1e-5);
  });

  it('shows what passes while it cools below the range, and nothing of it when it is even again', () => {
    const rate_K_h = 2;
    const cooling = run(thin, [
      { at_h: 0, surface_C: 350 },
      { at_h: 20, surface_C: 310 },
    ]);
    const closed = resultOf(coolingStress, { ...thin, rate_K_h });
    expectRelative(cooling.temporary_surface_stress_MPa, closed.temporary_surface_stress_MPa, 1e-4);
    expectRelative(cooling.surface_stress_MPa, closed.temporary_surface_stress_MPa, 1e-4);
    expectRelative(cooling.greatest_tension_MPa, closed.temporary_surface_stress_MPa, 1e-4);
    const even = run(thin, ramp(thin, rate_K_h, 350, 310));
    expect(Math.abs(even.surface_stress_MPa)).toBeLessThan(1e-5);
  });

  it('converges with the layers, and with them the steps: each halving of them leaves less than half the error', () => {
    // A chill from the fluid: a sharp front, where the steps matter most.
    const record = [
      { at_h: 0, surface_C: 600 },
      { at_h: 0.3, surface_C: 480 },
      { at_h: 6, surface_C: 480 },
    ];
    const fine = run(thin, record, { layers: 80 });
    const errors = [10, 20, 40].map((layers) =>
      Math.abs(run(thin, record, { layers }).permanent_centre_stress_MPa / fine.permanent_centre_stress_MPa - 1),
    );
    expect(errors[1]).toBeLessThan(errors[0]! / 2);
    expect(errors[2]).toBeLessThan(errors[1]! / 2);
    expect(errors[1]).toBeLessThan(0.02);
  });

  it('takes readings in between for what they are: a straight line cut in pieces gives the same', () => {
    const one = run(thin, ramp(thin, 2, 600, 440));
    const pieces = ramp(thin, 2, 600, 440).flatMap((r, k) =>
      k === 1
        ? [...Array.from({ length: 39 }, (_, n) => ({ at_h: 2 * (n + 1), surface_C: 600 - 4 * (n + 1) })), r]
        : [r],
    );
    const many = run(thin, pieces);
    expectRelative(many.permanent_centre_stress_MPa, one.permanent_centre_stress_MPa, 1e-4);
  });

  it.each([
    [{ record: [{ at_h: 0, surface_C: 500 }] }, 'record', 'needs at least 2 readings'],
    [
      {
        record: [
          { at_h: 1, surface_C: 500 },
          { at_h: 1, surface_C: 490 },
        ],
      },
      'record',
      'has two readings of one time',
    ],
    [{ layers: 21 }, 'layers', 'is not of a form that this calculation takes'],
    [
      {
        record: [
          { at_h: 0, surface_C: 0 },
          { at_h: 1, surface_C: 1e6 },
        ],
      },
      'record',
      'takes too many steps: fewer readings, smaller changes, or fewer layers',
    ],
  ])('refuses %j', (wrong, path, message) => {
    const good = { ...whole, points, record: ramp(whole, 0.15, 565, 460) };
    expect(errorOf(viscoelasticSlab, { ...good, ...wrong }).path).toBe(path);
    if (path !== 'layers') expect(errorOf(viscoelasticSlab, { ...good, ...wrong }).message).toBe(message);
  });
});

describe('the anneal of a core-filled blank (common practice, no source)', () => {
  const permitted = (half_thickness_mm: number) =>
    resultOf(coolingRate, { ...glass, half_thickness_mm, permitted_stress_MPa: 0.2 }).rate_K_h;

  it('goes at a few degrees a day where the whole blank, some 0.2 m either way, cools as one slab', () => {
    const day_K = 24 * permitted(202.5);
    expect(day_K).toBeGreaterThan(2);
    expect(day_K).toBeLessThan(10);
  });

  it('would go at hundreds of degrees a day if the face, 28 mm, were all there is', () => {
    expect(24 * permitted(14)).toBeGreaterThan(200);
  });

  it('says in the working which thickness was used', () => {
    const input = { ...whole, points, record: ramp(whole, 0.15, 565, 460) };
    for (const lines of [
      workingOf(viscoelasticSlab, input),
      workingOf(coolingRate, { ...whole, permitted_stress_MPa: 0.2 }),
      workingOf(coolingStress, { ...whole, rate_K_h: 0.15 }),
    ])
      expect(lines.find((l) => l.meaning === 'half the thickness')).toMatchObject({
        symbol: 'a',
        value: 202.5,
        unit: 'mm',
      });
  });

  it('fills its gaps in hours at casting temperature, not in minutes and not in days', () => {
    const log10 = resultOf(viscosity, { points, temperature_C: 1160 }).log10_Pa_s as number;
    const { fill_time_h } = resultOf(slotFill, {
      gap_mm: 12,
      depth_mm: 333,
      viscosity_Pa_s: 10 ** log10,
      density_kg_m3: 2230,
    });
    expect(fill_time_h).toBeGreaterThan(0.5);
    expect(fill_time_h).toBeLessThan(10);
  });
});
