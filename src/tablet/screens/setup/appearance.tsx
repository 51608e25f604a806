import { soundDue, soundReady } from '../../app/due-sound.ts';
import { person } from '../../app/session.ts';
import { changeSettings, changeUnits, settings, type TabletSettings } from '../../app/settings.ts';
import type { Units } from '../../app/units.ts';
import { someone } from '../../app/who.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';

type Choice<T> = { value: T; label: string; detail?: string };
type Option<K extends keyof TabletSettings> = Choice<TabletSettings[K]>;

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
const lengths: Choice<Units['lengthUnit']>[] = [
  { value: 'mm', label: 'mm' },
  { value: 'in', label: 'inches' },
];
const temperatures: Choice<Units['temperatureUnit']>[] = [
  { value: '°C', label: '°C' },
  { value: '°F', label: '°F' },
];

const sounds: Option<'dueSound'>[] = [
  { value: 'loud', label: 'Loud', detail: 'over the noise of the hall' },
  { value: 'quiet', label: 'Quiet' },
  { value: 'off', label: 'Off', detail: 'due rounds show on Now only' },
];

/** How this tablet, and the person at it, show and take figures; the log keeps what was typed with its unit, whatever stands here. */
export function Appearance() {
  return (
    <div class="setup-looks">
      <Sheet title="Light and hand" class="setup-choices">
        <Setting name="theme" legend="Light" options={themes} />
        <Setting name="hand" legend="Keypad" options={hands} />
      </Sheet>
      <DueSound />
      <Sheet title="Figures" aside={<Example />} class="setup-choices">
        <Setting name="decimalMark" legend="Decimal mark that is shown; both can be typed" options={marks} />
      </Sheet>
      <PersonsUnits />
    </div>
  );
}

/** The units of the person at the tablet; others keep theirs. */
function PersonsUnits() {
  const who = person.value;
  const change = async (units: Partial<Units>): Promise<void> => {
    const asked = await someone();
    if (asked) await changeUnits(asked.id, units);
  };
  return (
    <Sheet title={who ? `Units of ${who.name}` : 'Units'} class="setup-choices">
      <ChoiceList
        legend="Lengths are typed and shown in"
        choices={lengths}
        value={settings.value.lengthUnit}
        onChoice={(lengthUnit) => void change({ lengthUnit })}
      />
      <ChoiceList
        legend="Temperatures are typed and shown in"
        choices={temperatures}
        value={settings.value.temperatureUnit}
        onChoice={(temperatureUnit) => void change({ temperatureUnit })}
      />
      <p class="small dim pad">
        Each person has their own on this tablet; they hold for surveys, and for typing temperatures in rounds. The log
        keeps what was typed with its unit, and the value in the plan's unit.
      </p>
    </Sheet>
  );
}

/** How a due round sounds, with a button that tries it. */
function DueSound() {
  return (
    <Sheet title="When a round falls due" class="setup-choices">
      <Setting name="dueSound" legend="Sound" options={sounds} />
      <div class="buttons pad">
        <button type="button" class="button" onClick={() => soundDue(settings.value.dueSound)}>
          Try the sound
        </button>
      </div>
      <p class="small dim pad">
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

type SettingProps<K extends keyof TabletSettings> = { name: K; legend: string; options: Option<K>[] };

function Setting<K extends keyof TabletSettings>({ name, legend, options }: SettingProps<K>) {
  return (
    <ChoiceList<string>
      legend={legend}
      choices={options}
      value={settings.value[name]}
      onChoice={(value) => void changeSettings({ [name]: value })}
    />
  );
}
