import { alarms } from './content/alarms.ts';
import { calendars } from './content/calendars.ts';
import { cautionClosing, cautions } from './content/cautions.ts';
import { channels } from './content/channels.ts';
import { characteristics } from './content/characteristics.ts';
import { doubts } from './content/doubts.ts';
import { findingKinds, severities } from './content/finding-kinds.ts';
import { handover } from './content/handover.ts';
import { castingHeatPlan, heatPlans, roundRule } from './content/heat-plans.ts';
import { holdCommon, holds, signatureMeaning } from './content/holds.ts';
import { instrumentClasses, instrumentRules, samplingRule } from './content/instruments.ts';
import { operations } from './content/operations.ts';
import { channelStates, deadChannelReasons, notStrikeReasons, strikeReasons } from './content/reasons.ts';
import { reminders } from './content/reminders.ts';
import { independenceRules, roles } from './content/roles.ts';
import { stages } from './content/stages.ts';
import { pairSets, stationSets } from './content/stations.ts';
import { witnesses } from './content/witnesses.ts';
import { figuresOf } from './derived-figures.ts';
import { evaluateDesign } from './evaluate-design.ts';
import type { Design, Plan } from './schema.ts';

const FOCAL_RATIO_DECIMALS = 2;

/** E.g. `f/1.6`: focal length over diameter. */
function focalRatio(design: Design): string {
  const ratio = (1000 * design.radius_of_curvature_m) / 2 / design.blank_diameter_mm;
  return `f/${Number(ratio.toFixed(FOCAL_RATIO_DECIMALS))}`;
}

/**
 * The built-in plan for a design of a blank: revision 1 of a casting. Limits and nominals follow from the design.
 * @throws {RefusedInput} with the path of the field of the design that is to blame
 */
export function buildPlan(candidate: Design): Plan {
  const w = evaluateDesign(candidate);
  const { design } = w;
  const furnaceChannels = channels(w);
  return {
    format: 1,
    revision: '1',
    title: `Honeycomb blank, ${design.blank_diameter_mm} mm, ${focalRatio(design)}`,
    design,
    derived: figuresOf(w),
    doubts: doubts(w),
    roles,
    independenceRules,
    cautions,
    cautionClosing,
    stages,
    operations: operations(w),
    calendars,
    stationSets: stationSets(w, furnaceChannels),
    pairSets: pairSets(w),
    characteristics: characteristics(w, furnaceChannels, castingHeatPlan(w)),
    samplingRule,
    instrumentClasses,
    instrumentRules,
    holds: holds(w),
    holdCommon,
    signatureMeaning,
    witnesses,
    heatPlans: heatPlans(w),
    roundRule,
    channels: furnaceChannels,
    alarms: alarms(w),
    findingKinds,
    severities,
    strikeReasons,
    notStrikeReasons,
    deadChannelReasons,
    channelStates,
    handover,
    reminders: reminders(w),
  };
}
