/** Who may record, sign, and who may not; the ids are those of the roster. */
export const roles = [
  {
    id: 'technician',
    name: 'Shift technician',
    mayRecord: 'checks, readings, rounds, photos, findings',
    maySign: 'own check sheets; second reader of a reading',
    mayNot: "release a hold point; strike another person's entry",
  },
  {
    id: 'crew-lead',
    name: 'Crew lead',
    mayRecord: 'all that a technician may',
    maySign: 'finish of an operation; handover out and in; technical signature on hold points; rework within the plan',
    mayNot: 'accept a concession; sign a hold as sole independent person when they measured',
  },
  {
    id: 'process-engineer',
    name: 'Process engineer',
    mayRecord: 'all that a technician may; limits, heat plans, recomputed targets',
    maySign:
      'plan revision; technical signature on heat holds; disposition rework, repair, regrade (proposes concession, scrap)',
    mayNot: 'independent signature on limits that they set themselves the same day',
  },
  {
    id: 'quality',
    name: 'Quality',
    mayRecord: 'findings, verification re-measurements',
    maySign:
      'independent signature on every hold point; disposition concession with customer; closes findings; instrument release',
    mayNot: 'record first readings as evidence for a hold that they then sign as the independent',
  },
  {
    id: 'customer',
    name: 'Customer witness',
    mayRecord: 'attendance, remarks, findings',
    maySign: 'witness points; H01, H05, H07, H12; concession on contract characteristics',
    mayNot: 'change plan or limits',
  },
];

export const independenceRules = [
  'Each hold point needs all its listed roles, by different persons.',
  'At least one signer has taken none of the measurements in the evidence.',
  'The one who proposes a disposition does not alone accept it.',
  "A struck entry needs the striker's own signature and a reason; if it was evidence for a released hold, quality is told.",
  'A second reading that confirms a reading counts as independent only when read by another person without sight of the first value.',
  'Who set a limit may sign the technical place, never the independent one, for the characteristic concerned.',
  'Nobody signs for an absent colleague; a delegated role is a plan revision with dates.',
  'In a hot stage with one lead on shift, a named on-call engineer signs from an own tablet when it next syncs; until then the hold stays open and the hot rule applies.',
];
