/** Reasons for a strike, to choose from; own words come beside. */
export const strikeReasons = [
  'mistyped',
  'wrong station',
  'wrong unit',
  'digits swapped',
  'wrong instrument entered',
  'read before settled',
  'written for another core or channel',
  'entered twice',
  'wrong time',
  'instrument found faulty',
  'wrong person signed in',
  'test entry',
  'photo of another thing',
];

export const notStrikeReasons = ['outside limits', 'looked odd', 'told to'];

export const deadChannelReasons = [
  'open circuit',
  'short to sheath',
  'reversed',
  'drifts against its pair',
  'jumps with rotation (slip ring)',
  'reads the reference junction (shorted at the head)',
  'insulation low when hot',
  'pulled out of place',
  'cabinet channel failed',
  'covered by glass or fibre',
];

export const channelStates = [
  'good',
  'suspect (still recorded, not in means)',
  'dead (time, reason, who)',
  'replaced (new identity, never the old name without a suffix)',
];
