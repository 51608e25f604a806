import type { EvaluatedDesign } from '../evaluate-design.ts';
import { STEEL_EXPANSION_PER_K } from '../hall-data.ts';

/** What a newcomer would leave out. */
export function reminders(w: EvaluatedDesign): string[] {
  const diameter = w.design.blank_diameter_mm;
  return [
    `Temperature of the scale and of the part, each time; ${(diameter / 1000).toFixed(1)} m of steel moves ${(diameter * STEEL_EXPANSION_PER_K).toFixed(3)} mm per kelvin, and warm tubs pass wrongly.`,
    'First station again at the end of every survey.',
    'Shrinkage before and after bake: two nominals for each core.',
    `Recomputing the glass to load from the surveyed gaps (0.5 mm mean is ${w.halfGap_kg.toFixed(0)} kg).`,
    'Pins: hot glass floats cores; pull every pin and sample again after the bake.',
    'Peak on the coldest channel, not the mean.',
    "Baseline of all pairs at a true soak: sensors' tolerance is as large as the differences to be controlled.",
    'Reference junctions rotating in a warm cabinet.',
    'Rate by hand and watch, because the display can be wrong for all of us.',
    'Hot band holding: a band expands three times as much as the tub.',
    'The late fall of level is either gaps still filling or a leak: only the shape of the curve tells.',
    'Hot volume of glass when a mark is read.',
    'Slow range must go well below the strain point when cooling is slow.',
    'A gradient straight through the plate bends it, a curved one leaves stress: so top, middle and bottom all need a sensor.',
    'Power per zone: it shows the fault before the temperature does.',
    'Rounds read the furnace; looking through the port, listening and smelling also belong in the log.',
    'A clear "did not happen" (no smoke, no sound) is a reading.',
    'Dead channels need a place in the count, or a pair dies one end at a time.',
    'A re-reading belongs to another person who has not seen the first.',
    'Sample is drawn before the first look.',
    'Tools, blades, packaging, pins, tiles: counted in and out.',
    'Doors, crane, sun and weekend heating change the hall.',
    'Weather and mains works during three months.',
    'Standby plant tried under load, weekly, and its fuel.',
    'Roster for eleven days and nights, with names on call and rest times.',
    'Hold points that heat will not wait for: agree the safe course beforehand.',
    'Predicted mass written before the lift.',
    'Cure is time and temperature, all night.',
    'Washing unloads the blank unevenly.',
    'Used fibre is another hazard than new fibre.',
    'Sludge and water are waste with a paper trail.',
    'Glass samples, witness pieces, offcuts kept with labels.',
    'Calibration after use of everything that carried a hold.',
    "The tablets' clocks.",
    'The tablet left in a locker: no release until its chain is in.',
    'Blank identity: mark the edge at 0° while hot memories are fresh; angle reference lost at turning is hard to regain.',
    'Photos with scale, address and direction of view.',
    'Spare core of each height, fired in the same bake.',
    'A test piece annealed with the blank for the stress viewer.',
    'Writing down why a limit was what it was.',
  ];
}
