import { slotFill } from '../calculations/slot-fill.ts';
import { viscosity } from '../calculations/viscosity.ts';
import { annealHeatPlan, coolDownHeatPlan } from './content/heat-plan-anneal.ts';
import { derive } from './derive.ts';
import type { EvaluatedDesign } from './evaluate-design.ts';
import { CASTING_PEAK_C, STRAIN_POINT_LOG10_PA_S, viscosityPoints } from './hall-data.ts';
import { heatPlanTotal } from './heat-plan-hours.ts';
import type { DerivedFigure } from './schema.ts';

/** Flow of the melt, stresses, permitted rates and the length of the anneal. */
export function coolingFigures(w: EvaluatedDesign): DerivedFigure[] {
  return [...flowFigures(w), ...rateFigures(w), ...stressFigures(w), ...durationFigures(w)];
}

function flowFigures(w: EvaluatedDesign): DerivedFigure[] {
  const points = viscosityPoints.map((p) => ({ ...p }));
  const peak = derive(viscosity, { points, temperature_C: CASTING_PEAK_C });
  const log10_Pa_s = peak.result.log10_Pa_s ?? 0;
  const fill = derive(
    slotFill,
    {
      gap_mm: w.design.gap_mm,
      depth_mm: w.greatestHeight.result.height_mm,
      viscosity_Pa_s: 10 ** log10_Pa_s,
      density_kg_m3: w.design.density_kg_m3,
      head_mm: 0,
      g_m_s2: w.g_m_s2,
    },
    { depth_mm: 'centre_thickness_mm' },
  );
  const strain = derive(viscosity, { points, log10_Pa_s: STRAIN_POINT_LOG10_PA_S });
  return [
    {
      id: 'viscosity-at-peak',
      name: `Viscosity at ${CASTING_PEAK_C} °C, log10 of Pa·s`,
      value: log10_Pa_s,
      unit: '',
      decimals: 3,
      derivation: peak.from('log10_Pa_s'),
    },
    {
      id: 'gap-flow',
      name: 'Flow in a filled gap',
      value: fill.result.mean_velocity_mm_h,
      unit: 'mm/h',
      decimals: 1,
      derivation: fill.from('mean_velocity_mm_h'),
    },
    {
      id: 'fill-time',
      name: 'Time to fill the deepest gap, no head above it',
      value: fill.result.fill_time_h,
      unit: 'h',
      decimals: 2,
      derivation: fill.from('fill_time_h'),
    },
    {
      id: 'strain-point',
      name: 'Strain point on the fit',
      value: strain.result.temperature_C ?? 0,
      unit: '°C',
      decimals: 1,
      derivation: strain.from('temperature_C'),
    },
  ];
}

function rateFigures(w: EvaluatedDesign): DerivedFigure[] {
  const { permitted, permittedBelow } = w;
  return [
    {
      id: 'half-thickness',
      name: 'Half thickness of the body in the anneal',
      value: w.half_thickness_mm,
      unit: 'mm',
      decimals: 1,
      words: 'Half the edge: the cores stay in, so the body cools as a slab.',
    },
    {
      id: 'anneal-rate-permitted',
      name: 'Permitted rate in the annealing range',
      value: permitted.result.rate_K_h,
      unit: 'K/h',
      decimals: 3,
      derivation: permitted.from('rate_K_h'),
    },
    {
      id: 'anneal-difference-permitted',
      name: 'Centre less surface at that rate',
      value: permitted.result.centre_minus_surface_K,
      unit: 'K',
      decimals: 2,
      derivation: permitted.from('centre_minus_surface_K'),
    },
    {
      id: 'anneal-rate',
      name: 'Planned rate in the annealing range',
      value: w.annealRate_K_h,
      unit: 'K/h',
      decimals: 3,
      words: 'Five eighths of the permitted rate: above 500 °C the expansion is greater than the cold value.',
    },
    {
      id: 'cool-rate-permitted',
      name: 'Permitted rate below the range',
      value: w.belowRate_K_h,
      unit: 'K/h',
      decimals: 3,
      words: `The rate at which the passing stress at the surface is ${w.design.temporary_stress_MPa} MPa.`,
    },
    {
      id: 'cool-difference-permitted',
      name: 'Centre less surface at that rate',
      value: permittedBelow.result.centre_minus_surface_K,
      unit: 'K',
      decimals: 2,
      derivation: permittedBelow.from('centre_minus_surface_K'),
    },
    {
      id: 'cool-rate',
      name: 'Planned rate below the range',
      value: w.coolRate_K_h,
      unit: 'K/h',
      decimals: 3,
      words: 'Five sixths of the permitted rate.',
    },
    {
      id: 'time-constant',
      name: 'Slowest heat-time constant of the body',
      value: w.timeConstant_h,
      unit: 'h',
      decimals: 1,
      words: '4 a² / π² κ: first root of the slab, fixed surface.',
    },
  ];
}

function stressFigures({ anneal, coolDown }: EvaluatedDesign): DerivedFigure[] {
  return [
    {
      id: 'anneal-difference',
      name: 'Centre less surface at the planned anneal rate',
      value: anneal.result.centre_minus_surface_K,
      unit: 'K',
      decimals: 2,
      derivation: anneal.from('centre_minus_surface_K'),
    },
    {
      id: 'stress-centre',
      name: 'Stress that stays at the centre',
      value: anneal.result.permanent_centre_stress_MPa,
      unit: 'MPa',
      decimals: 3,
      derivation: anneal.from('permanent_centre_stress_MPa'),
    },
    {
      id: 'stress-surface',
      name: 'Stress that stays at the surface',
      value: anneal.result.permanent_surface_stress_MPa,
      unit: 'MPa',
      decimals: 3,
      derivation: anneal.from('permanent_surface_stress_MPa'),
    },
    {
      id: 'retardation',
      name: 'Retardation at the centre',
      value: anneal.result.permanent_retardation_nm_cm ?? 0,
      unit: 'nm/cm',
      decimals: 1,
      derivation: anneal.from('permanent_retardation_nm_cm'),
    },
    {
      id: 'cool-difference',
      name: 'Centre less surface at the planned cool-down rate',
      value: coolDown.result.centre_minus_surface_K,
      unit: 'K',
      decimals: 2,
      derivation: coolDown.from('centre_minus_surface_K'),
    },
    {
      id: 'cool-stress',
      name: 'Passing stress at the surface at the planned cool-down rate',
      value: coolDown.result.temporary_surface_stress_MPa,
      unit: 'MPa',
      decimals: 3,
      derivation: coolDown.from('temporary_surface_stress_MPa'),
    },
  ];
}

function durationFigures(w: EvaluatedDesign): DerivedFigure[] {
  const anneal = heatPlanTotal(annealHeatPlan(w));
  const coolDown = heatPlanTotal(coolDownHeatPlan(w));
  return [
    daysOf('anneal-days', 'Days of the anneal', anneal),
    daysOf('cool-down-days', 'Days of the cool-down', coolDown),
    {
      id: 'days-to-opening',
      name: "Days from the fast cool's end to opening",
      value: (anneal.result.total_h + coolDown.result.total_h) / 24,
      unit: 'd',
      decimals: 1,
      words: 'Anneal and cool-down together.',
    },
  ];
}

const daysOf = (id: string, name: string, heat: ReturnType<typeof heatPlanTotal>): DerivedFigure => ({
  id,
  name,
  value: heat.result.total_h / 24,
  unit: 'd',
  decimals: 1,
  derivation: heat.from('total_h', { factor: 1 / 24 }),
});
