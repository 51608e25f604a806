import { describe, expect, test } from 'vitest';
import { runCalculation } from '../../shared/calculations/calculation.ts';
import { conformity } from '../../shared/calculations/conformity.ts';
import { calculationNamed } from '../../shared/calculations/registry.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { evaluateDesign } from '../../shared/plan/evaluate-design.ts';
import { characteristicById, derivationAt, limitsAt, stationsOf } from '../../shared/plan/lookup.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import type { Derivation, Plan } from '../../shared/plan/schema.ts';
import { designs } from './designs.ts';

const plan = buildPlan(practiceDesign);

describe('limits of the practice blank, as its table has them', () => {
  const rows: [string, string, string, number | null, number | null, number | null][] = [
    ['tub-diameter-20', '2.4', '7.5@40', 3217.36, 3215.86, 3218.86],
    ['tub-radius', '5.1', '187.5@380', 1608.68, 1607.18, 1610.18],
    ['tub-permanent-change', '5.1', '7.5@40', 0, -1.5, 1.5],
    ['tub-mean-change', '5.1', 'one', 0, -1, 1],
    ['spin-rate', '3.3', 'one', 9.32889, 9.3198, 9.33802],
    ['band-tension', '2.3', 'B1-R1', 4, 3.6, 4.6],
    ['band-travel', '2.3', 'B4-R4', null, 60, null],
    ['band-travel', '11.4', 'B4-R4', null, 15, null],
    ['level-mark-zero', '2.2', '30', 405, 404.5, 405.5],
    ['liner-thickness', '6.1', '7.5@40', 10.4, 9.9, 10.9],
    ['liner-thickness', '7.2', '7.5@40', 10, 9.5, 10.5],
    ['core-across-flats', '6.2', '0.1@flat-1', 168.5, 168, 169],
    ['core-height-received', '6.2', '0.1', 227.68, 227.08, 228.28],
    ['core-top-height', '7.2', '0.1', 252, 251.2, 252.8],
    ['core-top-height', '7.2', '1.1', 253.58, 252.78, 254.38],
    ['core-top-height', '6.4', '0.1', 252.68, 251.88, 253.48],
    ['core-height-change', '7.2', '0.1', -0.3, -0.6, 0],
    ['core-gap', '6.3', '0.1-1.1@top', 11.5, 10.3, 12.7],
    ['core-gap', '7.2', '0.1-1.1@foot', 12, 10.8, 13.2],
    ['pin-pull', '6.3', '0.1', null, 300, null],
    ['pin-count', '6.3', 'one', 253, 253, null],
    ['core-to-liner', '6.4', '10.1', 25, 20, null],
    ['face-sheet-thickness', '7.3', '0.1', 28, 27, 29],
    ['mass-loaded', '8.2', 'one', 1775.7, 1765.7, 1790.7],
    ['melt-level', '10.1', '30', 408, 401, 412],
    ['peak-temperature', '10.1', 'one', 1160, 1150, 1168],
    ['cooling-rate', '11.1', 'P3.9', null, null, 48],
    ['cooling-rate', '11.1', 'P3.11', null, null, 6],
    ['cool-spread', '11.1', 'P3.10', null, null, 30],
    ['glass-zone-spread', '9.2', 'P3.6', null, null, 8],
    ['stop-temperature', '11.2', 'one', null, null, 600],
    ['anneal-rate', '11.3', 'one', -0.15, -0.239, 0],
    ['cool-rate', '11.4', 'one', null, -0.419, 0],
    ['through-difference', '11.3', 'MC-0', 1.42, null, 2.27],
    ['pair-difference', '11.3', 'FC-0-BP-0', 0, -2.2, 2.2],
    ['pair-difference', '11.4', 'FC-0-BP-0', 0, -5, 5],
    ['pad-share', '12.4', 'pad-1', 4.17, 2.9, 5.6],
    ['lift-mass', '12.4', 'one', 3151, 3051, 3251],
    ['turn-angle', '12.5', '45', 45, 44, 46],
    ['residue-mass', '13.2', 'one', 785, 730, 840],
    ['edge-thickness', '14.1', '0', 405, 402, 408],
    ['radius-of-curvature', '14.1', '0', 10.24, 10.22, 10.26],
    ['blank-mass', '14.1', 'one', 1749.4, 1704.4, 1794.4],
    ['mass-balance', '14.1', 'one', 33, 0, 70],
    ['stress-retardation', '14.1', 'edge-7.5', 5, null, 10],
    // Not limited, or not known.
    ['hall-temperature', '11.3', 'hall-1', null, null, null],
    ['no-such-characteristic', '1.1', 'one', null, null, null],
  ];
  test.each(rows)('%s in %s at %s', (id, operation, station, nominal, lower, upper) => {
    expect(limitsAt(plan, id, operation, station)).toEqual({ nominal, lower, upper });
  });

  test('warn before the limit of a rate', () => {
    expect(characteristicById(plan, 'anneal-rate')!.limits[0]!.warnLower).toBe(-0.18);
    expect(characteristicById(plan, 'cool-rate')!.limits[0]!.warnLower).toBe(-0.38);
  });

  test('bring the tub to 20 °C with its own expansion', () => {
    expect(characteristicById(plan, 'tub-diameter-20')!.at20).toEqual({
      part_expansion_per_K: 4.8e-6,
      u_part_expansion_per_K: 0.3e-6,
    });
  });
});

/** A derivation run again, or an error that says which. */
function again({ calculation, input, output, factor = 1, addend = 0 }: Derivation): number {
  const outcome = runCalculation(calculationNamed(calculation)!, input);
  if ('error' in outcome) throw new Error(`${calculation}: ${outcome.error.path} ${outcome.error.message}`);
  return (outcome.result as Record<string, number>)[output]! * factor + addend;
}

/** Every derivation of the plan with the number that it stands for. */
function derivationsOf(of: Plan) {
  return of.characteristics.flatMap((c) =>
    c.limits.flatMap((l) => {
      const operation = l.operations?.[0] ?? c.operations[0]!;
      const stations = stationsOf(of, c);
      const probes = l.derivation?.stationInput ? stations : stations.slice(0, 1);
      return probes.flatMap((station) => {
        const at = limitsAt(of, c.id, operation, station.id);
        return [
          { derivation: derivationAt(of, c, operation, station.id), value: at.nominal },
          { derivation: l.lowerDerivation, value: at.lower },
          { derivation: l.upperDerivation, value: at.upper },
        ].flatMap(({ derivation, value }) =>
          derivation ? [{ where: `${c.id} ${operation} ${station.id}`, derivation, value, decimals: c.decimals }] : [],
        );
      });
    }),
  );
}

describe.each(designs)('limits of the $name', ({ design }) => {
  const built = buildPlan(design);

  test('are what their derivations give, to the last decimal that is read', () => {
    const found = derivationsOf(built);
    expect(found.length).toBeGreaterThan(500);
    for (const { where, derivation, value, decimals } of found) {
      expect(Math.abs(again(derivation) - value!), where).toBeLessThanOrEqual(1.001 * 10 ** -decimals);
    }
  });

  test('leave room for the uncertainty: the nominal is judged within', () => {
    for (const c of built.characteristics) {
      if (c.kind === 'recorded') continue;
      for (const operation of c.operations) {
        for (const station of stationsOf(built, c).slice(0, 2)) {
          const { nominal, lower, upper } = limitsAt(built, c.id, operation, station.id);
          if (nominal === null || (lower === null && upper === null)) continue;
          const { verdict } = conformity.compute({
            value: nominal,
            standard_uncertainty: c.uncertainty ?? 0,
            lower_limit: lower,
            upper_limit: upper,
          });
          expect(verdict, `${c.id} ${operation}`).toBe('within');
        }
      }
    }
  });

  test('follow the design', () => {
    const w = evaluateDesign(design);
    const nominal = (id: string, operation: string, station = 'one') => limitsAt(built, id, operation, station).nominal;
    const heights = built.stationSets.heights!.map((s) => s.height_mm!);
    const wall = `7.5@${heights[0]}`;
    expect(nominal('tub-diameter-20', '2.4', wall)).toBeCloseTo(w.mould.result.tub_inner_diameter_mm, 1);
    expect(nominal('tub-radius', '2.4', wall)).toBeCloseTo(w.mould.result.tub_inner_diameter_mm / 2, 1);
    expect(nominal('blank-diameter', '14.1', '7.5')).toBe(design.blank_diameter_mm);
    expect(nominal('pin-count', '6.3')).toBe(w.wholeCores.length);
    expect(nominal('core-gap', '7.2', '0.1-1.1@top')).toBe(design.gap_mm);
    expect(heights.every((h) => h < w.edge_mm)).toBe(true);
    for (const core of w.wholeCores) {
      expect(nominal('core-top-height', '7.2', core.address)).toBeCloseTo(design.back_thickness_mm + core.height_mm, 1);
    }
  });
});
