import type { EvaluatedDesign } from '../evaluate-design.ts';
import type { Hold, Requirement } from '../schema.ts';
import { MOULD_MOSAIC } from './operations-7-core-bake.ts';

const sheets = (...operations: string[]): Requirement[] =>
  operations.map((operation) => ({ kind: 'sheet', operation }));

/** Characteristics that one operation shows within. */
const within = (operation: string, ...characteristics: string[]): Requirement[] =>
  characteristics.map((characteristic) => ({ kind: 'characteristic', characteristic, operation }));

/** The same, with what is asked of it beyond. */
const withinAs = (operation: string, characteristic: string, words: string): Requirement => ({
  kind: 'characteristic',
  characteristic,
  operation,
  words,
});

const statement = (id: string, words: string): Requirement => ({ kind: 'statement', id, words });
const witnessed = (witness: string): Requirement => ({ kind: 'witness', witness });
const released = (...holds: string[]): Requirement => ({ kind: 'holds', holds });

const passedUnreleased =
  'What is done without release is logged as passed unreleased, a blocking finding for H12 until quality and engineer close it.';

/** What every hold point needs besides its own evidence. */
export const holdCommon = [
  'Its operations and all before them finished with check sheets complete',
  'No blocking finding open',
  'Instruments in calibration at the time of use',
  'Entries of every tablet known to have worked on that stage at hand',
  'Photos listed as wanted present',
];

export const signatureMeaning =
  'I have looked at the readings behind this, not only at the colour; I know of nothing that speaks against going on.';

/** The hold points, in the order of the sequence. */
export const holds = (w: EvaluatedDesign): Hold[] => [
  ...mouldHolds(w),
  ...loadHolds(w),
  ...heatHolds(w),
  ...releaseHolds(),
];

const mouldHolds = (w: EvaluatedDesign): Hold[] => [
  {
    id: 'H01',
    name: 'Tub as built',
    after: '2.4',
    before: ['3.1', '4.1'],
    operations: ['1.3', '2.4'],
    requirements: [
      ...sheets('1.1', '1.2', '1.3', '2.1', '2.2', '2.3', '2.4'),
      ...within('1.1', 'table-axial-runout'),
      ...within('1.2', 'table-level'),
      ...within('2.1', 'floor-lattice-position'),
      ...within('2.4', 'floor-flatness', 'tub-diameter-20', 'tub-roundness'),
      ...within('2.3', 'band-tension'),
      statement('instruments-in-date', 'Instruments of the classes DI, FL, RA, OL and LC that were used are in date.'),
    ],
    roles: ['crew-lead', 'quality', 'customer'],
    meaning: 'The tub is the size that gives the blank at 20 °C.',
    usuallyMissed: 'Scale temperature not read; diameter judged warm.',
  },
  {
    id: 'H02',
    name: 'Furnace and test spin',
    after: '3.3',
    before: ['4.1'],
    operations: ['1.3', '3.3'],
    requirements: [
      ...sheets('1.3', '3.1', '3.2', '3.3'),
      ...within('3.1', 'insulation-resistance'),
      ...within('3.2', 'channel-cold-agreement', 'loop-injection-error'),
      withinAs('3.3', 'spin-rate', 'on both drives'),
      ...within('3.3', 'data-gaps'),
      statement('key-rounds', 'Key rounds of the 8 h at rate are complete, every 30 min.'),
      statement('cut-out-proof', 'The over-temperature cut-out was tripped once by its own sensor.'),
    ],
    roles: ['process-engineer', 'quality'],
    meaning: 'Furnace, sensors and drives may be trusted for weeks.',
    usuallyMissed: 'Cable polarity at the far end; standby drive never run at rate.',
  },
  {
    id: 'H03',
    name: 'Tub after preheat',
    after: '5.1',
    before: ['6.1'],
    operations: ['5.1'],
    requirements: [
      ...sheets('4.1', '4.2', '5.1'),
      ...within('4.1', 'preheat-peak'),
      {
        kind: 'rounds',
        heatPlan: 'P1',
        operation: '4.1',
        share: 0.95,
        noneMissedIn: [2, 4, 6],
        words: 'P1 rounds at least 95 % and none missed at a soak.',
      },
      ...within('5.1', 'tub-diameter-20', 'tub-permanent-change', 'tub-mean-change', 'floor-flatness'),
      ...within('4.2', 'band-tension'),
      statement('cracks-dispositioned', 'Every crack in a stave has a disposition.'),
    ],
    roles: ['crew-lead', 'process-engineer', 'quality'],
    meaning: 'Size is stable; liner thickness chosen for the tub as found.',
    usuallyMissed: 'One station that moved, hidden in the mean.',
  },
  {
    id: 'H04',
    name: 'Cores before bake',
    after: '6.4',
    before: ['7.1'],
    operations: ['6.4'],
    requirements: [
      ...sheets('6.1', '6.2', '6.3', '6.4'),
      ...within('6.2', 'core-across-flats', 'core-height-received', 'core-mass'),
      statement('core-records', `A record of each of the ${w.wholeCores.length} cores is there.`),
      withinAs('6.3', 'pin-pull', 'all'),
      withinAs('6.3', 'core-gap', 'all'),
      withinAs('6.4', 'core-top-height', 'all'),
      ...within('6.3', 'pin-count', 'spacer-count'),
      ...within('6.1', 'liner-thickness'),
    ],
    roles: ['crew-lead', 'quality'],
    meaning: 'Every core is in its own place and held.',
    usuallyMissed: 'A swapped pair of cores with nearly the same height.',
  },
  {
    id: 'H05',
    name: 'Mould released for glass',
    after: '7.3',
    before: ['8.2'],
    operations: ['7.3'],
    requirements: [
      ...sheets('7.1', '7.2', '7.3'),
      ...within('7.1', 'bake-peak'),
      {
        kind: 'rounds',
        heatPlan: 'P2',
        operation: '7.1',
        share: 0.95,
        noneMissedIn: [2, 4, 6, 8],
        words: 'P2 rounds at least 95 % and none missed at a soak.',
      },
      withinAs('7.2', 'core-top-height', 'all after the bake'),
      withinAs('7.2', 'core-gap', 'the sample, or all'),
      ...within('7.2', 'gap-mean'),
      ...within('7.3', 'face-sheet-thickness', 'tool-count'),
      // One a quarter at least: common practice, no source. A person says that it is whole.
      { kind: 'photos', operation: '7.3', photo: MOULD_MOSAIC, least: 4 },
      statement('photo-mosaic', 'The photo mosaic of the whole mould from above is there.'),
      witnessed('W03'),
    ],
    roles: ['process-engineer', 'quality', 'customer'],
    meaning: 'Last look; after this the mould is out of sight.',
    usuallyMissed: 'Pins not pulled again; debris seen only in photos.',
  },
];

const loadHolds = (w: EvaluatedDesign): Hold[] => [
  {
    id: 'H06',
    name: 'Load accepted',
    after: '8.2',
    before: ['9.1'],
    operations: ['8.2'],
    requirements: [
      ...sheets('8.1', '8.2'),
      statement(
        'target-recomputed',
        'The target mass was recomputed from the mean gap and the tops as surveyed, and signed by the process engineer.',
      ),
      ...within('8.2', 'mass-loaded', 'unbalance', 'block-count-agreement'),
      statement('glass-certificates', 'Certificates for expansion and density of every melt are there.'),
      witnessed('W04'),
    ],
    roles: ['crew-lead', 'process-engineer'],
    meaning: 'Right mass, right glass, balanced.',
    usuallyMissed: `Target left at the design value though gaps changed (${w.halfGap_kg.toFixed(0)} kg per 0.5 mm).`,
  },
  {
    id: 'H07',
    name: 'Release to fire',
    after: '9.1',
    before: ['9.2'],
    operations: ['9.1'],
    requirements: [
      ...sheets('9.1'),
      ...within('9.1', 'channels-alive'),
      withinAs('9.1', 'controller-plan-agreement', 'by two persons'),
      ...within('9.1', 'standby-run', 'clock-difference'),
      statement('roster', 'The roster for eleven days is posted, with on-call names.'),
      released('H01', 'H02', 'H03', 'H04', 'H05', 'H06'),
    ],
    roles: ['process-engineer', 'quality', 'customer'],
    meaning: 'All that must run for eleven days runs today.',
    usuallyMissed: 'A spare that is on the list but in another hall.',
  },
];

const heatHolds = ({ design }: EvaluatedDesign): Hold[] => [
  {
    id: 'H08',
    name: 'Release to melt',
    after: '9.2',
    before: ['9.3'],
    operations: ['9.2'],
    requirements: [
      ...sheets('9.2'),
      withinAs('9.2', 'glass-zone-spread', 'at most 8 K at the 750 °C soak'),
      ...within('9.2', 'hold-baseline'),
      {
        kind: 'rounds',
        heatPlan: 'P3',
        operation: '9.2',
        share: 0,
        noneMissedIn: [],
        noneMissedLast_h: 12,
        words: 'P3 rounds, none missed in the last 12 h.',
      },
      statement('both-drives-ready', 'Both drives are ready.'),
      witnessed('W05'),
    ],
    roles: ['process-engineer', 'crew-lead'],
    meaning: 'Point of no return: from here glass flows.',
    usuallyMissed: `Baseline at ${design.set_temperature_C} °C not taken.`,
    hotRule: `A furnace cannot wait for ever: 24 h more at 750 °C is not wanted, so cool to ${design.set_temperature_C} °C and wait there. ${passedUnreleased}`,
  },
  {
    id: 'H09',
    name: 'Release to fast cool',
    after: '10.1',
    before: ['11.1'],
    operations: ['10.1'],
    requirements: [
      ...sheets('10.1'),
      withinAs('10.1', 'level-remaining', 'below 0.5 mm at 4 ports, from 5 readings or more'),
      ...within('10.1', 'level-against-mass', 'level-agreement'),
      withinAs('10.1', 'spin-rate', 'the last 5 within'),
      ...within('10.1', 'peak-temperature'),
      statement('soak-time', 'At least 6 h at the soak have passed.'),
    ],
    roles: ['process-engineer', 'crew-lead'],
    meaning: 'Gaps are full, glass accounted for.',
    usuallyMissed: 'Level "settled" judged from two readings; a slow leak looks like late filling.',
    hotRule: `Soak at most 10 h in all, then fast cool starts as the safe course. ${passedUnreleased}`,
  },
  {
    id: 'H10',
    name: 'Leave the annealing range',
    after: '11.3',
    before: ['11.4'],
    operations: ['11.3'],
    requirements: [
      ...sheets('11.1', '11.2', '11.3'),
      withinAs('11.3', 'anneal-rate', 'each day'),
      ...within('11.3', 'through-difference', 'pair-difference'),
      {
        kind: 'rounds',
        heatPlan: 'P4',
        operation: '11.3',
        share: 0.98,
        noneMissedIn: [],
        greatestGap_h: 8,
        words: 'P4 rounds at least 98 %, no gap over 8 h.',
      },
      statement('alarms-answered', 'Every alarm was answered.'),
      ...within('11.3', 'channel-drift'),
      statement('stress-worked-out', 'The stress was worked out from the record.'),
    ],
    roles: ['process-engineer', 'quality'],
    meaning: 'Stress in the glass is what the record says.',
    usuallyMissed: 'A week of one dead MC channel; rate fitted over the wrong days.',
    hotRule: `Stay at ${design.set_temperature_C - 100} °C as long as needed. ${passedUnreleased}`,
  },
];

const releaseHolds = (): Hold[] => [
  {
    id: 'H11',
    name: 'Release to lift',
    after: '12.3',
    before: ['12.4'],
    operations: ['12.3'],
    requirements: [
      ...sheets('12.1', '12.2', '12.3'),
      ...within('12.3', 'cure-time'),
      withinAs('12.3', 'cure-temperature', 'unbroken'),
      withinAs('12.3', 'witness-strength', '3 of 3'),
      ...within('12.3', 'bond-thickness'),
      statement('lift-plan', 'The lift plan is signed by the appointed lifting person, on a document of their own.'),
      statement('cells-zeroed', 'The pad load cells are zeroed and in date.'),
      statement('predicted-mass', 'The predicted mass is written down before the lift.'),
    ],
    roles: ['crew-lead', 'quality'],
    meaning: 'The pads will carry, and the place below is empty.',
    usuallyMissed: 'Cold night in the cure; predicted mass written after the lift.',
  },
  {
    id: 'H12',
    name: 'Release of the blank',
    after: '14.2',
    before: [],
    operations: ['14.2'],
    requirements: [
      released('H01', 'H02', 'H03', 'H04', 'H05', 'H06', 'H07', 'H08', 'H09', 'H10', 'H11'),
      ...sheets('14.1', '14.2'),
      ...within(
        '14.1',
        'blank-diameter',
        'centre-thickness',
        'edge-thickness',
        'face-thickness',
        'back-thickness',
        'radius-of-curvature',
        'blank-mass',
        'mass-balance',
        'stress-retardation',
        'bubble-class',
      ),
      ...within('14.2', 'open-findings', 'chains-verified'),
      statement('record-verified', 'The record was exported, opened on another machine and verified.'),
    ],
    roles: ['quality', 'process-engineer', 'customer'],
    meaning: 'The blank and its record belong together.',
    usuallyMissed: 'One tablet not synced.',
  },
];
