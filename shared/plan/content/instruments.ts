import { STEEL_EXPANSION_PER_K } from '../hall-data.ts';
import type { InstrumentClass } from '../schema.ts';

type Numbers = Partial<Pick<InstrumentClass, 'interval_months' | 'expansion_per_K'>>;

const YEARLY: Numbers = { interval_months: 12 };
const STEEL: Numbers = { expansion_per_K: STEEL_EXPANSION_PER_K };

/** One class: uncertainty in words, and as a number in the unit where one holds for the class. */
const kind = (
  id: string,
  name: string,
  resolution: string,
  uncertainty: [words: string, number: number | null, unit: string],
  interval: string,
  remark: string,
  numbers: Numbers,
): InstrumentClass => ({
  id,
  name,
  resolution,
  uncertainty: uncertainty[0],
  standardUncertainty: uncertainty[1],
  unit: uncertainty[2],
  interval,
  interval_months: null,
  expansion_per_K: null,
  remark,
  ...numbers,
});

/**
 * Uncertainties: common practice, no source. Thermocouple tolerance: IEC 60584-1, class 1.
 * Uncertainty is that of one reading, instrument and method together.
 */
export const instrumentClasses: InstrumentClass[] = [
  kind('DI', 'Dial or digital indicator', '0.001 mm', ['0.010 mm', 0.01, 'mm'], '12 months', '', YEARLY),
  kind(
    'FL',
    'Frame level, reversed',
    '0.01 mm/m',
    ['0.010 mm/m', 0.01, 'mm/m'],
    '12 months',
    'Wait 10 min, reverse each time.',
    YEARLY,
  ),
  kind(
    'RA',
    'Radius arm on the axis, with setting gauge',
    '0.01 mm',
    ['0.12 mm radius, 0.20 mm diameter', null, 'mm'],
    '12 months; gauge check each use',
    'Steel 11.5e-6/K: enter scale temperature.',
    { ...YEARLY, ...STEEL },
  ),
  kind(
    'OL',
    'Optical level and scale',
    '0.05 mm',
    ['0.15 mm', 0.15, 'mm'],
    '12 months; two-peg check weekly',
    'Scale 11.5e-6/K.',
    { ...YEARLY, ...STEEL },
  ),
  kind(
    'HG',
    'Height gauge on plate',
    '0.01 mm',
    ['0.10 mm on fibre (soft)', 0.1, 'mm'],
    '12 months',
    'Contact force fixed.',
    YEARLY,
  ),
  kind('CA', 'Calliper', '0.01 mm', ['0.03 mm hard, 0.10 mm soft', null, 'mm'], '6 months', '11.5e-6/K.', {
    interval_months: 6,
    ...STEEL,
  }),
  kind(
    'TG',
    'Taper and blade gauges',
    '0.05 mm',
    ['0.15 mm in fibre gap', 0.15, 'mm'],
    '12 months',
    'Worn tip: check on ring.',
    YEARLY,
  ),
  kind(
    'TP',
    'Steel tape',
    '1 mm (read 0.5)',
    ['0.25 mm short, 1 mm long', null, 'mm'],
    '12 months',
    '11.5e-6/K, pull 50 N.',
    { ...YEARLY, ...STEEL },
  ),
  kind(
    'FT',
    'Fibre thickness gauge, fixed pressure',
    '0.1 mm',
    ['0.12 mm', 0.12, 'mm'],
    '12 months',
    'Pressure foot 0.35 kPa.',
    YEARLY,
  ),
  kind(
    'LC',
    'Rod load cell',
    '0.01 kN',
    ['1.5 %', 1.5, '%'],
    '12 months',
    'Zero drift 0.05 %/K: zero in place.',
    YEARLY,
  ),
  kind(
    'PL',
    'Pad load cells',
    '0.005 kN',
    ['0.5 %', 0.5, '%'],
    '12 months',
    'Zero drift 0.05 %/K: zero in place.',
    YEARLY,
  ),
  kind('PG', 'Pull gauge', '1 N', ['5 N', 5, 'N'], '12 months', '', YEARLY),
  kind('PG2', 'Water pressure gauge', '0.1 MPa', ['2 %', 2, '%'], '12 months', '', YEARLY),
  kind(
    'PS',
    'Platform scale',
    '0.002 kg',
    ['0.005 kg', 0.005, 'kg'],
    '12 months; test mass each crate',
    'Draught, level bubble.',
    YEARLY,
  ),
  kind(
    'BS',
    'Bench scale',
    '0.1 g',
    ['by sheet', null, ''],
    '12 months; test mass each crate',
    'Draught, level bubble.',
    YEARLY,
  ),
  kind('TM', 'Turn timer (100 turns)', '0.01 s', ['0.10 s, so 0.0015 rpm', 0.0015, 'rpm'], '24 months', '1e-6/K.', {
    interval_months: 24,
  }),
  kind(
    'VM',
    'Vibration meter 2–1000 Hz',
    '0.01 mm/s',
    ['0.1 mm/s', 0.1, 'mm/s'],
    '12 months',
    'Blind to once-a-turn.',
    YEARLY,
  ),
  kind(
    'VR',
    'Emf readout',
    '0.001 mV',
    ['0.15 K with S', 0.15, 'K'],
    '12 months; injection each stage',
    '20e-6 of reading/K.',
    YEARLY,
  ),
  kind('IN', 'Emf injector', '0.001 mV', ['0.10 K with S', 0.1, 'K'], '12 months', '10e-6/K.', YEARLY),
  kind(
    'TS',
    'Type S thermocouple, class 1',
    '–',
    ['0.6 K absolute to 1100 °C (1 K ÷ √3); 0.3 K in differences after baseline', 0.6, 'K'],
    'new for each casting; not recalibrated after use',
    'Drifts with rhodium loss, contamination.',
    {},
  ),
  kind('TN', 'Type N thermocouple, class 1', '–', ['0.0023 · °C', null, 'K'], 'new for each casting', '', {}),
  kind(
    'ST',
    'Resistance thermometer, hand-held',
    '0.01 °C',
    ['0.15 K', 0.15, 'K'],
    '12 months; ice point monthly',
    '',
    YEARLY,
  ),
  kind('PY', 'Pyrometer', '1 °C', ['6 K', 6, 'K'], '12 months', 'Emissivity 0.9 ± 0.03 entered; window loss.', YEARLY),
  kind(
    'LS',
    'Level sight through port',
    '0.5 mm',
    ['0.7 mm', 0.7, 'mm'],
    'zero at 2.2, 5.1',
    'Parallax, mark expands.',
    {},
  ),
  kind('CL', 'Clinometer', '0.01°', ['0.03°', 0.03, '°'], '12 months', 'Reverse.', YEARLY),
  kind(
    'UT',
    'Ultrasonic thickness',
    '0.01 mm',
    ['0.10 mm', 0.1, 'mm'],
    '12 months; step block each use',
    'Velocity set on glass of the melt.',
    YEARLY,
  ),
  kind(
    'SV',
    'Strain viewer with compensator',
    '1 nm',
    ['1.0 nm/cm', 1, 'nm/cm'],
    '24 months',
    'Path length measured too.',
    { interval_months: 24 },
  ),
  kind(
    'PR',
    'Profile bar or three-foot spherometer',
    '0.001 mm',
    ['4 mm in R', 4, 'mm'],
    'each use on a flat',
    'Foot spacing 11.5e-6/K.',
    STEEL,
  ),
  kind('MM', 'Resistance meter', '–', ['0.5 %', 0.5, '%'], '12 months', 'Test voltage by local code.', YEARLY),
  kind('IM', 'Insulation meter', '–', ['5 %', 5, '%'], '12 months', 'Test voltage by local code.', YEARLY),
];

export const instrumentRules = [
  'An instrument out of date is recorded, flagged, and its readings do not count for a hold until a calibration afterwards shows that it was right.',
  'One found wrong afterwards puts every reading since its last good check in question, with the holds on them.',
  'One instrument for a comparison pair (2.4 and 5.1; 6.4 and 7.2).',
];

export const samplingRule =
  'A sample is drawn before the first reading, spread over rings and sectors; one outside: all are read.';
