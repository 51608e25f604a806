import { soundDue, soundReady } from '../../app/due-sound.ts';
import { changeSettings, type Settings, settings } from '../../app/settings.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';

type Option<K extends keyof Settings> = { value: Settings[K]; label: string; detail?: string };

const themes: Option<'theme'>[] = [
  { value: 'as the tablet', label: 'As the tablet' },
  { value: 'hall', label: 'Hall', detail: 'ink on recorder paper' },
  { value: 'night shift', label: 'Night shift', detail: 'ivory on a black dial' },
];
const hands: Option<'hand'>[] = [
  { value: 'right', label: 'Right hand', detail: 'Enter stands on the right' },
  { value: 'left', label: 'Left hand', detail: 'Enter stands on the left' },
];
const marks: Option<'decimalMark'>[] = [
  { value: '.', label: 'Point: 3218.5' },
  { value: ',', label: 'Comma: 3218,5' },
];
const lengths: Option<'lengthUnit'>[] = [
  { value: 'mm', label: 'mm' },
  { value: 'in', label: 'inches' },
];
const temperatures: Option<'temperatureUnit'>[] = [
  { value: '°C', label: '°C' },
  { value: '°F', label: '°F' },
];

const sounds: Option<'dueSound'>[] = [
  { value: 'loud', label: 'Loud', detail: 'over the noise of the hall' },
  { value: 'quiet', label: 'Quiet' },
  { value: 'off', label: 'Off', detail: 'due rounds show on Now only' },
];

/** How this tablet shows and takes figures; the log keeps what was typed with its unit, whatever stands here. */
export function Appearance() {
  return (
    <div class="setup-looks">
      <Sheet title="Light and hand" class="setup-choices">
        <Setting name="theme" legend="Light" options={themes} />
        <Setting name="hand" legend="Keypad" options={hands} />
      </Sheet>
      <DueSound />
      <Sheet title="Figures and units" aside={<Example />} class="setup-choices">
        <Setting name="decimalMark" legend="Decimal mark that is shown; both can be typed" options={marks} />
        <Setting name="lengthUnit" legend="Lengths are typed in" options={lengths} />
        <Setting name="temperatureUnit" legend="Temperatures are typed in" options={temperatures} />
      </Sheet>
    </div>
  );
}

/** How a due round sounds, with a button that tries it. */
function DueSound() {
  return (
    <Sheet title="When a round falls due" class="setup-choices">
      <Setting name="dueSound" legend="Sound" options={sounds} />
      <button type="button" class="button" onClick={() => soundDue(settings.value.dueSound)}>
        Try the sound
      </button>
      <p class="small dim">
        {soundReady.value
          ? 'The browser lets this page sound.'
          : 'A browser lets a page sound only after one tap on it.'}{' '}
        After each start of the app, tap the screen once. It sounds only while the app is open, and the tablet's own
        volume counts.
      </p>
    </Sheet>
  );
}

function Example() {
  return <Figure value={3217.24} decimals={2} unit="mm" decimalMark={settings.value.decimalMark} />;
}

type SettingProps<K extends keyof Settings> = { name: K; legend: string; options: Option<K>[] };

function Setting<K extends keyof Settings>({ name, legend, options }: SettingProps<K>) {
  return (
    <ChoiceList<string>
      legend={legend}
      choices={options}
      value={settings.value[name]}
      onChoice={(value) => void changeSettings({ [name]: value })}
    />
  );
}
