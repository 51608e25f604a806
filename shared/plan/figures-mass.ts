import { permissibleUnbalance } from '../calculations/permissible-unbalance.ts';
import { derive } from './derive.ts';
import type { EvaluatedDesign } from './evaluate-design.ts';
import { BALANCE_GRADE_MM_S, PAD_COUNT, PAD_DIAMETER_MM } from './hall-data.ts';
import type { DerivedFigure } from './schema.ts';

/** Volumes, masses and the loads that follow from them. */
export function massFigures(w: EvaluatedDesign): DerivedFigure[] {
  return [...glassFigures(w), ...loadFigures(w)];
}

function glassFigures({ design, glass, ...w }: EvaluatedDesign): DerivedFigure[] {
  const volume = (id: string, name: string, output: 'solid_volume_m3' | 'core_volume_m3' | 'glass_volume_m3') => ({
    id,
    name,
    value: glass.result[output],
    unit: 'm³',
    decimals: 5,
    derivation: glass.from(output),
  });
  return [
    volume('solid-volume', 'Volume of a solid blank', 'solid_volume_m3'),
    volume('core-volume', 'Volume of the cores', 'core_volume_m3'),
    volume('glass-volume', 'Volume of glass', 'glass_volume_m3'),
    {
      id: 'glass-mass',
      name: 'Glass mass',
      value: glass.result.glass_mass_kg,
      unit: 'kg',
      decimals: 1,
      derivation: glass.from('glass_mass_kg'),
    },
    {
      id: 'hollow-fraction',
      name: 'Hollow fraction',
      value: glass.result.hollow_fraction,
      unit: '',
      decimals: 4,
      derivation: glass.from('hollow_fraction'),
    },
    {
      id: 'spacers-mass',
      name: 'Glass that the spacers keep out',
      value: w.spacers_kg,
      unit: 'kg',
      decimals: 1,
      words: `${w.wholeCores.length} · π/4 · ${design.spacer_diameter_mm}² · ${design.back_thickness_mm} mm³ · ${design.density_kg_m3} kg/m³`,
    },
    {
      id: 'blank-mass',
      name: 'Mass of the blank',
      value: w.blank_kg,
      unit: 'kg',
      decimals: 1,
      words: 'Glass mass less what the spacers keep out.',
    },
    {
      id: 'mass-to-load',
      name: 'Mass to load',
      value: w.load_kg,
      unit: 'kg',
      decimals: 1,
      words: `Mass of the blank · (1 + ${design.glass_allowance}) for soaking-in, evaporation and skin.`,
    },
    {
      id: 'mass-per-mm-of-face',
      name: 'Glass for 1 mm of face sheet',
      value: w.face_kg_mm,
      unit: 'kg',
      decimals: 2,
      words: 'ρ · π D²/4 · 1 mm',
    },
    {
      id: 'mass-for-half-mm-of-gap',
      name: 'Glass for 0.5 mm more mean gap',
      value: (glass.result.core_volume_m3 * design.density_kg_m3) / w.across_flats_mm,
      unit: 'kg',
      decimals: 1,
      words: 'Core volume · ρ · 2 (√3/2) w · 0.5 over (√3/2) w², cut cores too.',
    },
    {
      id: 'cores-mass',
      name: 'Dry mass of all cores',
      value: w.cores_kg,
      unit: 'kg',
      decimals: 0,
      words: 'Core volume · density of the cores, cut ones too.',
    },
  ];
}

function loadFigures(w: EvaluatedDesign): DerivedFigure[] {
  const { design, band } = w;
  const padLoad_kN = (w.lift_kg * w.g_m_s2) / PAD_COUNT / 1000;
  const unbalance = derive(permissibleUnbalance, {
    mass_kg: design.rotating_mass_kg,
    rotation_rate_rpm: w.rotation.result.rotation_rate_rpm,
    grade_mm_s: BALANCE_GRADE_MM_S,
  });
  return [
    {
      id: 'band-pressure',
      name: 'Glass pressure at the foot of the wall',
      value: band.result.pressure_at_foot_kPa,
      unit: 'kPa',
      decimals: 3,
      derivation: band.from('pressure_at_foot_kPa'),
    },
    {
      id: 'band-load-at-foot',
      name: 'Band load at the foot',
      value: band.result.hoop_load_at_foot_kN_m,
      unit: 'kN/m',
      decimals: 2,
      derivation: band.from('hoop_load_at_foot_kN_m'),
    },
    {
      id: 'band-load',
      name: 'Band load over the whole wall',
      value: band.result.hoop_load_kN,
      unit: 'kN',
      decimals: 3,
      derivation: band.from('hoop_load_kN'),
    },
    {
      id: 'band-travel',
      name: 'Travel that a rod loses in the heat',
      value: w.bandTravel_mm,
      unit: 'mm',
      decimals: 1,
      words: 'π D · (expansion of band less tub) · (hottest band − 20 °C), over the rods of a band.',
    },
    {
      id: 'permissible-unbalance',
      name: `Unbalance that grade G ${BALANCE_GRADE_MM_S} would allow`,
      value: unbalance.result.unbalance_g_mm / 1e6,
      unit: 'kg·m',
      decimals: 1,
      derivation: unbalance.from('unbalance_g_mm', { factor: 1e-6 }),
    },
    {
      id: 'lift-mass',
      name: 'Mass on the pads at the lift',
      value: w.lift_kg,
      unit: 'kg',
      decimals: 0,
      words: `Blank ${w.blank_kg.toFixed(1)}, cores ${w.cores_kg.toFixed(0)}, floor tiles ${w.tiles_kg.toFixed(0)} kg.`,
    },
    {
      id: 'pad-load',
      name: 'Load on each pad',
      value: padLoad_kN,
      unit: 'kN',
      decimals: 3,
      words: `Lift mass · g over ${PAD_COUNT} pads.`,
    },
    {
      id: 'pad-pressure',
      name: 'Stress under a pad',
      value: padLoad_kN / ((Math.PI / 4) * (PAD_DIAMETER_MM / 1000) ** 2),
      unit: 'kPa',
      decimals: 0,
      words: `Load on each pad over a pad of ${PAD_DIAMETER_MM} mm.`,
    },
  ];
}
