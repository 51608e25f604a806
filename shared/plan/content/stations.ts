import type { CorePlace, EvaluatedDesign } from '../evaluate-design.ts';
import { BAND_COUNT, RODS_PER_BAND } from '../hall-data.ts';
import type { Channel, Plan, Station } from '../schema.ts';
import { channelRadius, floorRadii, padRadii, runoutRadius, wallHeights } from '../station-geometry.ts';
import { isThermocouple } from './channels.ts';

type StationSets = Record<string, Station[]>;

/** Angles at an even pace, degrees. */
const angles = (count: number, first_deg: number, step_deg: number): number[] =>
  Array.from({ length: count }, (_, i) => first_deg + i * step_deg);

const hundredths = (value: number): number => Number(value.toFixed(2)) + 0;

/** Place in plan of an angle on a circle, to 0.01 mm. */
const onCircle = (angle_deg: number, radius_mm: number) => ({
  angle_deg,
  x_mm: hundredths(radius_mm * Math.cos((angle_deg * Math.PI) / 180)),
  y_mm: hundredths(radius_mm * Math.sin((angle_deg * Math.PI) / 180)),
});

const byAngle = (list: readonly number[], radius_mm?: number): Station[] =>
  list.map((angle) => ({
    id: String(angle),
    label: `${angle}°`,
    ...(radius_mm === undefined ? { angle_deg: angle } : onCircle(angle, radius_mm)),
  }));

/** Stations with a number and nothing more, e.g. `drive-1`. */
const numbered = (count: number, id: string, label: string): Station[] =>
  Array.from({ length: count }, (_, i) => ({ id: `${id}${i + 1}`, label: `${label} ${i + 1}` }));

const wallGrid = (list: readonly number[], heights: readonly number[]): Station[] =>
  heights.flatMap((height) =>
    list.map((angle) => ({
      id: `${angle}@${height}`,
      label: `${angle}° at ${height} mm`,
      angle_deg: angle,
      height_mm: height,
    })),
  );

function floorPoints(blank_diameter_mm: number): Station[] {
  const [inner, middle, outer] = floorRadii(blank_diameter_mm);
  const circle = (count: number, radius: number): Station[] =>
    angles(count, 0, 360 / count).map((angle) => ({
      id: `${angle}@${radius}`,
      label: `${angle}° at ${radius} mm from the axis`,
      ...onCircle(angle, radius),
    }));
  const centre: Station = { id: 'centre', label: 'centre', x_mm: 0, y_mm: 0 };
  return [centre, ...circle(6, inner), ...circle(12, middle), ...circle(24, outer)];
}

const coreStation = (core: CorePlace): Station => ({
  id: core.address,
  label: `core ${core.address}`,
  x_mm: hundredths(core.x_mm),
  y_mm: hundredths(core.y_mm),
});

/** One pad for each sixteenth of the outer circle and each eighth of the inner. */
function pads(blank_diameter_mm: number): Station[] {
  const [inner, outer] = padRadii(blank_diameter_mm);
  const places = [
    ...angles(8, 22.5, 45).map((angle) => onCircle(angle, inner)),
    ...angles(16, 11.25, 22.5).map((angle) => onCircle(angle, outer)),
  ];
  return places.map((place, i) => ({ id: `pad-${i + 1}`, label: `pad ${i + 1}`, ...place }));
}

const channelStation = (channel: Channel): Station => ({ id: channel.id, label: channel.id });

/** Pairs of face and back, and the middle over its own pair. */
const glassPairs = (count: number): Station[] =>
  Array.from({ length: count }, (_, n) => ({ id: `FC-${n}-BP-${n}`, label: `FC-${n} less BP-${n}` }));

const named = (names: readonly string[]): Station[] =>
  names.map((name) => ({ id: name.replaceAll(' ', '-'), label: name }));

const segments = (first: number, last: number): Station[] =>
  Array.from({ length: last - first + 1 }, (_, i) => ({ id: `P3.${first + i}`, label: `P3 segment ${first + i}` }));

function wallSets(w: EvaluatedDesign): StationSets {
  const heights = wallHeights(w.edge_mm);
  const angles24 = angles(24, 7.5, 15);
  const diameters = angles(12, 7.5, 15);
  return {
    T24x3: wallGrid(angles24, heights),
    D12x3: wallGrid(diameters, heights),
    D12: byAngle(diameters),
    heights: heights.map((height) => ({ id: `h${height}`, label: `height ${height} mm`, height_mm: height })),
    staves: angles24.map((angle, i) => ({
      id: `stave-${i + 1}`,
      label: `stave ${i + 1}`,
      angle_deg: angle,
    })),
    ports: byAngle([30, 120, 210, 300]),
    'band-rods': Array.from({ length: BAND_COUNT }, (_, band) =>
      Array.from({ length: RODS_PER_BAND }, (_, rod) => ({
        id: `B${band + 1}-R${rod + 1}`,
        label: `band ${band + 1}, rod ${rod + 1}`,
      })),
    ).flat(),
    'tub-places': byAngle(angles(6, 0, 60)),
  };
}

function tableSets({ design }: EvaluatedDesign): StationSets {
  const radius = runoutRadius(design.blank_diameter_mm);
  return {
    'table-24': byAngle(angles(24, 7.5, 15)),
    'table-8': byAngle(angles(8, 0, 45), radius),
    'table-4': byAngle(angles(4, 0, 90), radius),
    'foundation-pins': numbered(4, 'pin-', 'survey pin'),
    drives: numbered(2, 'drive-', 'drive'),
    trials: numbered(3, 'trial-', 'trial'),
    'bearing-places': numbered(4, 'bearing-', 'bearing, place'),
    'slip-rings': numbered(2, 'slip-ring-', 'slip ring'),
    F43: floorPoints(design.blank_diameter_mm),
  };
}

function furnaceSets(channels: readonly Channel[]): StationSets {
  return {
    'heater-zones': channels.filter((c) => c.group === 'HZ').map(channelStation),
    thermocouples: channels.filter(isThermocouple).map(channelStation),
    'reference-junctions': channels.filter((c) => c.group === 'RJ').map(channelStation),
    'mid-cores': channels.filter((c) => c.group === 'MC').map(channelStation),
    'rim-back-plate': channels.filter((c) => c.group === 'BP' && c.id !== 'BP-0').map(channelStation),
    'glass-pairs': glassPairs(7),
    'glass-pairs-and-middle': [...glassPairs(7), ...channels.filter((c) => c.group === 'MC').map(channelStation)],
    'firing-segments': segments(1, 6),
    'fast-cool-segments': segments(9, 11),
    'hall-places': numbered(2, 'hall-', 'hall, place'),
  };
}

function blankSets({ design }: EvaluatedDesign): StationSets {
  const rim = design.blank_diameter_mm / 2;
  return {
    'edge-12': byAngle(angles(12, 0, 30), rim),
    'profiles-8': byAngle(angles(8, 0, 22.5)),
    'stress-36': [
      ...angles(24, 7.5, 15).map((angle) => ({
        id: `edge-${angle}`,
        label: `edge, ${angle}°`,
        ...onCircle(angle, rim),
      })),
      ...angles(12, 0, 30).map((angle) => ({
        id: `face-${angle}`,
        label: `face, ${angle}°`,
        ...onCircle(angle, channelRadius(design.blank_diameter_mm)),
      })),
    ],
    pads: pads(design.blank_diameter_mm),
    'hall-and-glass': named(['hall', 'glass']),
    'witness-pieces': numbered(3, 'piece-', 'witness piece'),
    'turn-stops': byAngle(angles(13, 0, 15)),
    sectors: numbered(6, 'sector-', 'sector'),
  };
}

/** Sets that would only repeat another: the pairs of neighbouring cores. */
export const pairSets = ({ design }: EvaluatedDesign): Plan['pairSets'] => ({
  CP: { of: 'C', apart_mm: design.pitch_mm },
});

/** Every set of stations that a characteristic names, but the pairs. */
export function stationSets(w: EvaluatedDesign, channels: readonly Channel[]): StationSets {
  return {
    ...tableSets(w),
    ...wallSets(w),
    C: w.wholeCores.map(coreStation),
    'edge-cores': w.cutCores.map(coreStation),
    ...furnaceSets(channels),
    ...blankSets(w),
  };
}
