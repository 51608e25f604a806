import type { EvaluatedDesign } from '../evaluate-design.ts';
import { levelMarkRange } from '../station-geometry.ts';
import { afterFinish, afterStart, finishAfter, type OperationSheet } from './links.ts';

/** What every survey of the tub measures, as built and after the preheat. */
export const tubSurveyMeasures: readonly string[] = [
  'tub-radius',
  'tub-diameter-20',
  'tub-roundness',
  'tub-centre-offset',
  'tub-wall-taper',
  'floor-level',
  'floor-flatness',
  'floor-tilt',
  'tub-temperature',
];

/** Stage 2: floor tiles, wall staves, bands and the tub as built. */
export const tub = (w: EvaluatedDesign): OperationSheet[] => {
  const [lowest, highest] = levelMarkRange(w.edge_mm);
  return [
    {
      id: '2.1',
      name: 'Floor tiles',
      purpose: 'A flat floor whose pin holes stand on the lattice.',
      after: [afterFinish('1.2')],
      hours: 80,
      calendar: 'two',
      cautions: ['C04', 'C06', 'C09'],
      checks: [
        'Tile batch and mass recorded',
        'Cracked or chipped tiles set aside, ring of each tile heard',
        'Joints filled but not bridged, 1.5–2.5 mm',
        'Lattice origin and 0° line scribed from the table axis, checked by a second person',
        `Pin holes clear through to the hearth, gauge rod passed through all ${w.wholeCores.length}`,
        'Every thermocouple passage open',
        'No hollow sound under any tile',
        'Bed cured for the time on its sheet',
        'Parting layer even',
      ],
      measures: ['floor-level', 'floor-flatness', 'floor-step', 'floor-lattice-position', 'floor-tile-moisture'],
      photos: ['Whole floor', 'Scribed origin', 'Each replaced tile'],
      wrong: 'Step at a joint: bed swept thin; origin off: later every core is off.',
      usualDisposition:
        'Rework (lift tile); repair of a chip below 5 mm off the rib lines; position error over limit is rework, never concession.',
    },
    {
      id: '2.2',
      name: 'Wall staves',
      purpose: 'A round, plumb wall of 24 staves.',
      after: [afterStart('2.1', 48), finishAfter('2.1', 24)],
      hours: 96,
      calendar: 'two',
      cautions: ['C06', 'C07', 'C08', 'C09'],
      checks: [
        'Stave numbers run in order from 0°',
        'Joints dry-fitted, feeler free of light at the inside',
        'Each stave plumb before the next is set',
        'Foot of stave bears on the floor ring over its whole length',
        'Sight ports at 30, 120, 210, 300° open, not overlapped by a joint',
        `Level marks (2 mm pitch, from ${lowest} to ${highest} mm above the floor) fixed at the four ports and their zero checked`,
        'Outer faces free of mortar lumps where bands will lie',
        'Temporary braces numbered for removal',
      ],
      measures: ['stave-plumb', 'stave-joint', 'level-mark-zero'],
      photos: ['Each port with its marks'],
      wrong: 'Joint open at the top only: stave leaning; mark zero wrong: all level readings wrong.',
      usualDisposition: 'Rework.',
    },
    {
      id: '2.3',
      name: 'Bands and first tension',
      purpose: 'Bands carry the glass head and keep joints shut, cold and hot.',
      after: [afterFinish('2.2')],
      hours: 24,
      calendar: 'day',
      cautions: ['C07', 'C10'],
      checks: [
        'Band material certificate matches the number on the band',
        'Welds of each band tested and reported',
        'Bearing pads between band and stave all seated',
        'Threads coated for hot release',
        'Springs free and inside their working travel',
        'Tension raised in three rounds, opposite rods together',
        'All joints shut after the last round',
        'Witness marks across every nut',
        'Heat-up loosening allowed for: travel left at least the value in band-travel',
      ],
      measures: ['band-tension', 'band-travel', 'band-gap-to-stave'],
      photos: ['Each tension rod with marks'],
      wrong:
        'One rod carries for two: pads not seated. A band expands three times as much as the tub: cold tension says little about hot holding.',
      usualDisposition: 'Rework; replace a yielded rod.',
    },
    {
      id: '2.4',
      name: 'Tub survey, as built',
      purpose: 'Floor and wall measured, at 20 °C terms, before anything hides them.',
      after: [afterFinish('2.3', 12)],
      hours: 16,
      calendar: 'day',
      cautions: ['C03', 'C09'],
      checks: [
        'Radius arm zeroed on its own setting gauge before and after',
        'Tub, arm and air temperature read at start, middle, end',
        'Hall steady within 2 K over the survey',
        'Every station read in number order and the first again at the end',
        'Band tension unchanged (witness marks aligned)',
        'Doubtful readings repeated at once, both kept',
        'Dust off the stations',
        'Second reader took the re-check sample',
      ],
      measures: [...tubSurveyMeasures],
      photos: ['Arm in use', 'Any worst station'],
      wrong: 'Two-lobed: a band tight on one axis; large centre offset: tub, not table, shifted.',
      usualDisposition: 'Rework (re-tension, move); regrade of blank diameter only by customer.',
    },
  ];
};
