import { computed, effect, signal } from '@preact/signals';
import { showDecimalMark } from '../parts/format-figure.ts';
import { amendFirstFrame, type FirstFrame } from '../storage/first-frame.ts';
import { person } from './session.ts';
import { tabletDb } from './tablet.ts';
import type { Units } from './units.ts';

/** What holds for the tablet, whoever works with it. */
export interface TabletSettings {
  readonly theme: 'as the tablet' | 'hall' | 'night shift';
  readonly hand: 'right' | 'left';
  readonly decimalMark: '.' | ',';
  /** How a round is announced when it falls due. */
  readonly dueSound: 'loud' | 'quiet' | 'off';
}

/** How things are shown now: the tablet's settings, and the units of the person at it. */
export type Settings = TabletSettings & Units;

const standard: Settings = {
  theme: 'as the tablet',
  hand: 'right',
  decimalMark: '.',
  lengthUnit: 'mm',
  temperatureUnit: '°C',
  dueSound: 'loud',
};

const UNITS = 'units/';

/** Units in it are for people who have chosen none. */
const ofTablet = signal<Settings>(standard);
const ofPeople = signal<Readonly<Record<string, Partial<Units>>>>({});

/** How this tablet shows things. What is stored in the log never depends on it. */
export const settings = computed<Settings>(() => ({
  ...ofTablet.value,
  ...(person.value ? ofPeople.value[person.value.id] : undefined),
}));

export async function loadSettings(): Promise<void> {
  const row = await tabletDb.settings.get('settings');
  ofTablet.value = { ...standard, ...(row?.value as Partial<Settings> | undefined) };
  const rows = await tabletDb.settings.where('key').startsWith(UNITS).toArray();
  ofPeople.value = Object.fromEntries(rows.map(({ key, value }) => [key.slice(UNITS.length), value as Partial<Units>]));
}

/** Shows things as the tablet is set, whenever that changes. */
export const followSettings = (): void => {
  effect(() => {
    const { theme, decimalMark } = ofTablet.value;
    if (theme === 'as the tablet') delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme === 'hall' ? 'light' : 'dark';
    showDecimalMark(decimalMark);
  });
};

/** What the first frame keeps of the settings, and takes back. */
export const settingsOfFrame = (): Pick<FirstFrame, 'settings' | 'units'> => ({
  settings: ofTablet.value,
  units: ofPeople.value,
});
export function expectSettings(frame: FirstFrame): void {
  ofTablet.value = { ...standard, ...(frame.settings as Partial<Settings>) };
  ofPeople.value = frame.units as Readonly<Record<string, Partial<Units>>>;
}

export async function changeSettings(change: Partial<TabletSettings>): Promise<void> {
  ofTablet.value = { ...ofTablet.value, ...change };
  amendFirstFrame(settingsOfFrame());
  await tabletDb.settings.put({ key: 'settings', value: ofTablet.value });
}

/** Units are a person's own on each tablet, like their key. */
export async function changeUnits(who: string, change: Partial<Units>): Promise<void> {
  const units = { ...ofPeople.value[who], ...change };
  ofPeople.value = { ...ofPeople.value, [who]: units };
  amendFirstFrame(settingsOfFrame());
  await tabletDb.settings.put({ key: UNITS + who, value: units });
}
