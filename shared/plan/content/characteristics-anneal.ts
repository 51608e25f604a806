import type { EvaluatedDesign } from '../evaluate-design.ts';
import type { Characteristic } from '../schema.ts';
import { FROM_DESIGN, inWords, plusMinus, rounded, row } from './limits.ts';

/** To so many decimals, towards nothing: a limit is not made wider by rounding. */
const towardsZero = (value: number, decimals: number): number =>
  Math.trunc(value * 10 ** decimals + 1e-9 * Math.sign(value)) / 10 ** decimals;

/** Two significant digits, as a warning is said. */
const said = (value: number): number => Number(value.toPrecision(2));

/** Stages 11.3 and 11.4: rates and differences through the glass. */
export const annealCharacteristics = (w: EvaluatedDesign): Characteristic[] => [...rateRows(w), ...differenceRows(w)];

function rateRows(w: EvaluatedDesign): Characteristic[] {
  const permitted = w.permitted.result.rate_K_h;
  const rate = { calculation: 'rate', characteristics: [], words: 'Fit of the mean of the glass channels over 24 h.' };
  return [
    row({
      id: 'anneal-rate',
      name: 'Anneal, rate over 24 h',
      operations: ['11.3'],
      unit: 'K/h',
      kind: 'derived',
      limits: [
        {
          nominal: -w.annealRate_K_h,
          lower: -towardsZero(permitted, 3),
          upper: 0,
          lowerDerivation: w.permitted.from('rate_K_h', { factor: -1 }),
          warnLower: -said(0.75 * permitted),
          remark: 'cooling is negative; in the slow range',
        },
      ],
      uncertainty: 0.01,
      instruments: ['TS'],
      decimals: 3,
      sampling: inWords('daily'),
      derivedFrom: rate,
      source: FROM_DESIGN,
    }),
    row({
      id: 'cool-rate',
      name: 'Cool-down, rate over 24 h',
      operations: ['11.4'],
      unit: 'K/h',
      kind: 'derived',
      limits: [
        {
          nominal: null,
          lower: -towardsZero(w.belowRate_K_h, 3),
          upper: 0,
          warnLower: -said(0.9 * w.belowRate_K_h),
          remark: `cooling is negative; the rate at which cooling-stress gives ${w.design.temporary_stress_MPa} MPa at the surface`,
        },
      ],
      uncertainty: 0.01,
      instruments: ['TS'],
      decimals: 3,
      sampling: inWords('daily'),
      derivedFrom: rate,
      source: FROM_DESIGN,
    }),
  ];
}

function differenceRows(w: EvaluatedDesign): Characteristic[] {
  const shared = {
    operations: ['11.3', '11.4'],
    unit: 'K',
    kind: 'derived' as const,
    uncertainty: 0.3,
    instruments: ['TS'],
    decimals: 2,
    sampling: inWords('by round'),
  };
  const fromRounds = (words: string) => ({ calculation: null, characteristics: ['hold-baseline'], words });
  return [
    row({
      ...shared,
      id: 'through-difference',
      name: 'Middle of the glass less face and back',
      stations: 'mid-cores',
      limits: [
        {
          operations: ['11.3'],
          nominal: rounded(w.anneal.result.centre_minus_surface_K, 2),
          lower: null,
          upper: towardsZero(w.permitted.result.centre_minus_surface_K, 2),
          derivation: w.anneal.from('centre_minus_surface_K'),
          upperDerivation: w.permitted.from('centre_minus_surface_K'),
        },
        {
          operations: ['11.4'],
          nominal: rounded(w.coolDown.result.centre_minus_surface_K, 2),
          lower: null,
          upper: towardsZero(w.permittedBelow.result.centre_minus_surface_K, 2),
          derivation: w.coolDown.from('centre_minus_surface_K'),
          upperDerivation: w.permittedBelow.from('centre_minus_surface_K'),
        },
      ],
      derivedFrom: fromRounds('MC less the mean of FC and BP over it, less the baseline.'),
      source: FROM_DESIGN,
    }),
    row({
      ...shared,
      id: 'pair-difference',
      name: 'Face less back',
      stations: 'glass-pairs',
      limits: [plusMinus(0, 2.2, { operations: ['11.3'] }), plusMinus(0, 5, { operations: ['11.4'] })],
      derivedFrom: fromRounds('FC less BP, less the baseline.'),
    }),
    row({
      ...shared,
      id: 'rim-centre-difference',
      name: 'Rim less centre under the back plate',
      stations: 'rim-back-plate',
      limits: [plusMinus(0, 3, { operations: ['11.3'] }), plusMinus(0, 6, { operations: ['11.4'] })],
      derivedFrom: fromRounds('BP-1 to BP-6 less BP-0, less the baseline.'),
    }),
    row({
      id: 'channel-drift',
      name: 'Drift of a pair in a week',
      operations: ['11.3'],
      unit: 'K',
      kind: 'derived',
      stations: 'glass-pairs-and-middle',
      limits: [plusMinus(0, 0.5)],
      uncertainty: 0.1,
      instruments: ['TS'],
      decimals: 2,
      sampling: inWords('weekly'),
      derivedFrom: {
        calculation: 'rate',
        characteristics: ['pair-difference'],
        words: 'Trend of the difference over a week.',
      },
    }),
  ];
}
