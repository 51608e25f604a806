import type { EvaluatedDesign } from '../evaluate-design.ts';
import type { Channel } from '../schema.ts';
import { channelRadius, floorRadii } from '../station-geometry.ts';

/** The short walk, between full rounds. */
const keyChannels: ReadonlySet<string> = new Set([
  'RJ-2',
  'HZ-sum',
  'CR-1',
  'WU-1',
  'WL-1',
  'BP-0',
  'BP-3',
  'MC-0',
  'MC-2',
  'FC-0',
  'FC-3',
  'SR-1',
]);

type Sensor = Omit<Channel, 'key'>;

/** A number on a ring of six: the one straight across. */
const across = (n: number): number => ((n + 2) % 6) + 1;
const six = [1, 2, 3, 4, 5, 6] as const;

const references: Sensor[] = [
  { id: 'RJ-1', type: 'resistance sensor', unit: '°C', where: 'Reference junction, fixed cabinet', group: 'RJ' },
  { id: 'RJ-2', type: 'resistance sensor', unit: '°C', where: 'Reference junction, rotating cabinet', group: 'RJ' },
];

const zones = ['crown', 'upper wall', 'lower wall', 'floor', 'centre floor'];
const heaterZones: Sensor[] = [
  ...zones.map((zone, i) => ({
    id: `HZ-${i + 1}`,
    type: 'power',
    unit: 'kW',
    where: `Heater zone ${zone}`,
    group: 'HZ',
  })),
  { id: 'HZ-sum', type: 'sum of HZ-1 to HZ-5', unit: 'kW', where: 'All heater zones together', group: 'HZ-sum' },
];

const crown: Sensor[] = six.map((n) => ({
  id: `CR-${n}`,
  type: 'S',
  unit: '°C',
  where: `Crown, ${(n - 1) * 60}°`,
  group: 'CR',
  pair: `CR-${across(n)}`,
  angle_deg: (n - 1) * 60,
}));

const wall = (prefix: 'WU' | 'WL', other: 'WU' | 'WL', place: string): Sensor[] =>
  six.map((n) => ({
    id: `${prefix}-${n}`,
    type: 'S',
    unit: '°C',
    where: `${place} wall, ${30 + (n - 1) * 60}°`,
    group: prefix,
    pair: `${other}-${n}`,
    across: [`${prefix}-${across(n)}`],
    angle_deg: 30 + (n - 1) * 60,
  }));

const bands: Sensor[] = [1, 2, 3, 4].map((n) => ({
  id: `BD-${n}`,
  type: 'N',
  unit: '°C',
  where: `Under band ${n}, 45°`,
  group: 'BD',
  angle_deg: 45,
}));

const hearth = (radius: number): Sensor[] =>
  [0, 90, 180, 270].map((angle, i) => ({
    id: `FB-${i + 1}`,
    type: 'N',
    unit: '°C',
    where: `Hearth under the tub, ${angle}° at ${radius} mm`,
    group: 'FB',
    angle_deg: angle,
    radius_mm: radius,
  }));

/** Place of number n of the seven through the glass: the centre, or one of six on a circle. */
const glassPlace = (n: number, radius: number) =>
  n === 0
    ? { words: 'centre', angle_deg: 0, radius_mm: 0 }
    : { words: `${(n - 1) * 60}° at ${radius} mm`, angle_deg: (n - 1) * 60, radius_mm: radius };

function backPlate(radius: number): Sensor[] {
  return [0, ...six].map((n) => {
    const { words, ...place } = glassPlace(n, radius);
    const where = `10 mm under the back plate, ${words}`;
    return { id: `BP-${n}`, type: 'S', unit: '°C', where, group: 'BP', pair: `FC-${n}`, ...place };
  });
}

function midCore(radius: number): Sensor[] {
  return [0, 1, 3, 5].map((over, n) => {
    const { words, ...place } = glassPlace(over, radius);
    const where = `Core mid-height, ${words}`;
    return { id: `MC-${n}`, type: 'S', unit: '°C', where, group: 'MC', across: [`FC-${over}`, `BP-${over}`], ...place };
  });
}

function coreTop(radius: number): Sensor[] {
  return [0, ...six].map((n) => {
    const { words, ...place } = glassPlace(n, radius);
    const where = `Core top, 15 mm below the face, ${words}`;
    return { id: `FC-${n}`, type: 'S', unit: '°C', where, group: 'FC', pair: `BP-${n}`, ...place };
  });
}

const rest: Sensor[] = [
  {
    id: 'PY-1',
    type: 'pyrometer',
    unit: '°C',
    where: 'Port 30°, on the glass surface; above 700 °C only, emissivity entered',
    group: 'PY',
    angle_deg: 30,
  },
  { id: 'SR-1', type: 'encoder', unit: 'rpm', where: 'Table; against hand timing once a shift', group: 'SR' },
];

/** The channels of the furnace, in walking order. */
export function channels({ design }: EvaluatedDesign): Channel[] {
  const radius = channelRadius(design.blank_diameter_mm);
  const sensors = [
    ...references,
    ...heaterZones,
    ...crown,
    ...wall('WU', 'WL', 'Upper'),
    ...wall('WL', 'WU', 'Lower'),
    ...bands,
    ...hearth(floorRadii(design.blank_diameter_mm)[1]),
    ...backPlate(radius),
    ...midCore(radius),
    ...coreTop(radius),
    ...rest,
  ];
  return sensors.map((sensor) => ({ ...sensor, key: keyChannels.has(sensor.id) }));
}

/** Thermocouples: the channels that turn emf into a temperature. */
export const isThermocouple = (channel: Channel): boolean => channel.type === 'S' || channel.type === 'N';
