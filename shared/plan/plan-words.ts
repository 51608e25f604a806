/** What the keys of a plan are called in the difference of two plans; a key that is not named here is said as it is. */
const names: Readonly<Record<string, string>> = {
  after: 'comes after',
  alarms: 'alarm',
  angle_deg: 'angle',
  apart_mm: 'distance',
  at20: 'brought to 20 °C',
  band_K: 'band',
  before: 'stands before',
  calendar: 'shift calendar',
  calendarDay: 'calendar',
  calibration: 'calibration',
  cautionClosing: 'closing sentence of the cautions',
  cautions: 'caution',
  channelStates: 'states of a channel',
  checks: 'check sheet item',
  control: 'control channels',
  deadChannelReasons: 'reasons for a dead channel',
  derivation: 'how the nominal is found',
  derived: 'figures from the design',
  derivedFrom: 'worked out from',
  doubts: 'doubts',
  every_h: 'interval',
  findingKinds: 'kinds of finding',
  freeDays: 'free days',
  greatestGap_h: 'longest time without a round',
  handover: 'handover',
  heatPlan: 'heat plan',
  heatPlans: 'heat plans',
  height_mm: 'height',
  holdCommon: 'common to all hold points',
  hotRule: 'rule while hot',
  hours: 'planned hours',
  ifAbsent: 'if the witness is absent',
  independenceRules: 'rules of independence',
  instrumentClasses: 'instrument classes',
  instrumentRules: 'rules for instruments',
  instruments: 'instrument classes',
  interval: 'calibration interval',
  interval_months: 'calibration interval',
  lag_h: 'lag',
  lower: 'lower limit',
  lowerDerivation: 'how the lower limit is found',
  mayAttend: 'may attend',
  mayNot: 'may not',
  mayRecord: 'may record',
  maySign: 'may sign',
  measures: 'measured',
  noneMissedIn: 'segments with no round missed',
  noneMissedLast_h: 'no round missed in the last hours',
  notDuring: 'no handover during',
  notice_h: 'notice',
  notStrikeReasons: 'what is no reason for a strike',
  offsetByStation: 'offsets by station',
  pairSets: 'pairs',
  part_expansion_per_K: 'expansion of the part',
  radius_mm: 'radius',
  range: 'greatest range over all stations',
  rate_K_h: 'rate',
  reminders: 'reminders',
  requirements: 'needs',
  roundRule: 'rule of the rounds',
  rounds: 'rounds',
  samplingRule: 'rule of sampling',
  secondNotice_h: 'second notice',
  severities: 'severities',
  sheetPer: 'a check sheet for each',
  signatureMeaning: 'meaning of a signature',
  soak_h: 'soak',
  spread_K: 'spread',
  standardUncertainty: 'standard uncertainty',
  start_C: 'start',
  stationSets: 'stations',
  strikeReasons: 'reasons for a strike',
  to_C: 'to',
  toldAhead: 'told ahead',
  u_part_expansion_per_K: 'uncertainty of the expansion',
  uncertainty: 'standard uncertainty',
  uncertaintyRemark: 'what the uncertainty stands for',
  upper: 'upper limit',
  upperDerivation: 'how the upper limit is found',
  usualDisposition: 'usual disposition',
  usuallyMissed: 'usually missed',
  warnLower: 'warning at or below',
  warnUpper: 'warning at or above',
  words: 'words',
  wrong: 'what goes wrong',
};

const unitNames: Readonly<Record<string, string>> = {
  hours: 'h',
  interval_months: 'months',
  share: '',
};

/** Units that end a key, the longest first: `rate_K_h` is in K/h. */
const endings: readonly (readonly [string, string])[] = [
  ['_m_s2', 'm/s²'],
  ['_kg_m3', 'kg/m³'],
  ['_mm_h', 'mm/h'],
  ['_per_K', '1/K'],
  ['_K_h', 'K/h'],
  ['_months', 'months'],
  ['_deg', '°'],
  ['_mm', 'mm'],
  ['_kg', 'kg'],
  ['_kW', 'kW'],
  ['_C', '°C'],
  ['_K', 'K'],
  ['_h', 'h'],
  ['_m', 'm'],
];

const unitsOfValue: ReadonlySet<string> = new Set([
  'nominal',
  'lower',
  'upper',
  'range',
  'warnLower',
  'warnUpper',
  'uncertainty',
  'value',
]);

/** The unit of a key's figure; `own` is that of the characteristic or figure that it belongs to. */
export const unitOfKey = (key: string, own: string): string =>
  unitNames[key] ?? (unitsOfValue.has(key) ? own : (endings.find(([end]) => key.endsWith(end))?.[1] ?? ''));

/** A key in the words of the trade. */
export function keyWords(key: string): string {
  const named = names[key];
  if (named) return named;
  const ending = endings.find(([end]) => key.endsWith(end))?.[0] ?? '';
  return key
    .slice(0, key.length - ending.length)
    .replaceAll('_', ' ')
    .replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`);
}

/** A figure with its unit, with a true minus; an expansion in millionths. */
export function figureWords(value: number, unit: string): string {
  if (unit === '1/K') return `${plainNumber(value * 1e6)} ×10⁻⁶/K`;
  return `${plainNumber(value)}${unit === '' ? '' : unit === '°' || unit === '%' ? ` ${unit}` : ` ${unit}`}`;
}

/** Nothing in a plan is finer than a millionth; the noise of binary fractions is. */
const plainNumber = (value: number): string => String(Number(value.toPrecision(9))).replace('-', '−');
