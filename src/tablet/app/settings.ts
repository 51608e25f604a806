import { effect, signal } from '@preact/signals';
import { tabletDb } from './tablet.ts';

export interface Settings {
  readonly theme: 'as the tablet' | 'hall' | 'night shift';
  readonly hand: 'right' | 'left';
  readonly decimalMark: '.' | ',';
  readonly lengthUnit: 'mm' | 'in';
  readonly temperatureUnit: '°C' | '°F';
  /** How a round is announced when it falls due. */
  readonly dueSound: 'loud' | 'quiet' | 'off';
}

const standard: Settings = {
  theme: 'as the tablet',
  hand: 'right',
  decimalMark: '.',
  lengthUnit: 'mm',
  temperatureUnit: '°C',
  dueSound: 'loud',
};

/** How this tablet shows things. What is stored in the log never depends on it. */
export const settings = signal<Settings>(standard);

export async function loadSettings(): Promise<void> {
  const row = await tabletDb.settings.get('settings');
  settings.value = { ...standard, ...(row?.value as Partial<Settings> | undefined) };
  effect(() => {
    const { theme } = settings.value;
    if (theme === 'as the tablet') delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme === 'hall' ? 'light' : 'dark';
  });
}

export async function changeSettings(change: Partial<Settings>): Promise<void> {
  settings.value = { ...settings.value, ...change };
  await tabletDb.settings.put({ key: 'settings', value: settings.value });
}
