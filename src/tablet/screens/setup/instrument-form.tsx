import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { type Instrument, instruments } from '../../../../shared/logbook/state/instruments.ts';
import type { InstrumentClass } from '../../../../shared/plan/schema.ts';
import { registerInstrument } from '../../acts/instruments.ts';
import { Problem } from '../../app/problem.tsx';
import { settings } from '../../app/settings.ts';
import { openView } from '../../app/tablet.ts';
import { type Draft, useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { enterMovesOn, FigureField, SelectField, TextField } from '../../shared-screens/fields/field.tsx';
import { dueAfter } from './calibration.ts';
import { today } from './instruments.tsx';
import { type InstrumentErrors, type InstrumentTexts, readInstrument } from './read-instrument.ts';

const figureText = (value: number | null): string =>
  value === null ? '' : String(value).replace('.', settings.value.decimalMark);
const expansionText = (value: number | null): string =>
  value === null ? '' : figureText(Number((value * 1e6).toPrecision(12)));

const nothing: InstrumentTexts = {
  number: '',
  name: '',
  class: '',
  uncertainty: '',
  expansion: '',
  calibratedOn: '',
  calibrationDue: '',
  foundRight: '',
  words: '',
};

const textsOf = ({ line }: Instrument): InstrumentTexts => ({
  ...nothing,
  number: line.instrument,
  name: line.name,
  class: line.class,
  uncertainty: figureText(line.standardUncertainty),
  expansion: expansionText(line.expansion_per_K),
  calibratedOn: line.calibratedOn,
  calibrationDue: line.calibrationDue,
});

/** What the class of an instrument says of it: a start for the fields, to be typed over from its certificate. */
const prefilled = (kind: InstrumentClass | undefined, calibratedOn: string): Partial<InstrumentTexts> =>
  kind
    ? {
        uncertainty: figureText(kind.standardUncertainty),
        expansion: expansionText(kind.expansion_per_K),
        calibrationDue: dueAfter(calibratedOn, kind.interval_months),
      }
    : {};

export type InstrumentFormProps = {
  /** The line that is to be changed; null adds a new instrument. */
  before: Instrument | null;
  onDone: (said?: string) => void;
};

/** A line of the register. Adding and changing both write a new line; the ones before stay readable. */
export function InstrumentForm({ before, onDone }: InstrumentFormProps) {
  const start = useMemo(() => (before ? textsOf(before) : nothing), [before]);
  const draft = useDraft(`setup/instrument/${before?.id ?? ''}`, start);
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  if (!draft.ready) return null;
  const view = openView();
  const kind = view.plan.instrumentClasses.find((c) => c.id === draft.value.class);
  const read = readInstrument(draft.value, {
    today: today(),
    taken: before ? [] : instruments(view).map((i) => i.id),
    unit: kind?.unit ?? before?.line.unit ?? null,
    before: before?.line.calibratedOn ?? null,
  });
  const errors: InstrumentErrors = 'errors' in read ? read.errors : {};
  const wrong = Object.keys(errors);
  const keep = async () => {
    asked.value = true;
    if ('errors' in read) return document.getElementById(`instrument-${wrong[0]}`)?.focus();
    const kept = await run(async () => {
      if (!(await someone())) return false;
      await registerInstrument(read.line);
      return true;
    });
    if (!kept) return;
    await draft.clear();
    onDone(`${read.line.instrument} stands in the register.`);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls
    <div class="setup-form" onKeyDown={enterMovesOn}>
      <InstrumentFields draft={draft} kind={kind} before={before} errors={asked.value ? errors : {}} />
      {problem && <Problem title="The line was not kept" words={problem} safe="What you typed is kept. Try again." />}
      <div class="setup-action buttons">
        <button
          type="button"
          class="button"
          onClick={() => {
            void draft.clear();
            onDone();
          }}
        >
          Leave it
        </button>
        <button
          type="button"
          class={`button main ${wrong.length > 0 ? 'missing' : ''}`}
          aria-busy={busy}
          onClick={() => void keep()}
        >
          {busy
            ? 'Saving'
            : wrong.length > 0
              ? `${wrong.length === 1 ? 'One thing' : `${wrong.length} things`} missing`
              : before
                ? 'Keep the new line'
                : 'Add it'}
        </button>
      </div>
    </div>
  );
}

type FieldsProps = {
  draft: Draft<InstrumentTexts>;
  kind: InstrumentClass | undefined;
  before: Instrument | null;
  errors: InstrumentErrors;
};

function InstrumentFields({ draft: { value, change }, kind, before, errors }: FieldsProps) {
  const { instrumentClasses } = openView().plan;
  const choices = [
    ...(value.class === '' ? [{ value: '', label: 'choose' }] : []),
    ...instrumentClasses.map((c) => ({ value: c.id, label: c.name })),
  ];
  const field = (key: keyof InstrumentTexts) => ({
    id: `instrument-${key}`,
    text: value[key],
    onText: (text: string) => change({ [key]: text }),
    error: errors[key],
  });
  return (
    <div class="pad setup-fields">
      {!before && <TextField {...field('number')} label="Number on the instrument" />}
      <div class={before ? 'setup-wide' : ''}>
        <TextField {...field('name')} label="Name, if it has one" />
      </div>
      <div class="setup-wide">
        <SelectField
          {...field('class')}
          label="Kind"
          choices={choices}
          onText={(id) =>
            change({
              class: id,
              ...prefilled(
                instrumentClasses.find((c) => c.id === id),
                value.calibratedOn,
              ),
            })
          }
          note={kind && `usual for the kind: ${kind.uncertainty}; ${kind.interval}`}
        />
      </div>
      <FigureField {...field('uncertainty')} label="Standard uncertainty" unit={kind?.unit ?? ''} />
      <FigureField {...field('expansion')} label="Expansion, if it is a scale" unit="10⁻⁶/K" />
      <TextField
        {...field('calibratedOn')}
        date
        label="Calibrated on"
        max={today()}
        onText={(date) =>
          change({
            calibratedOn: date,
            ...(kind?.interval_months ? { calibrationDue: dueAfter(date, kind.interval_months) } : {}),
          })
        }
      />
      <TextField {...field('calibrationDue')} date label="Next one due" />
      {before && value.calibratedOn > before.line.calibratedOn && (
        <div class="setup-wide" id="instrument-foundRight" tabIndex={-1}>
          <ChoiceList
            legend="How did the calibration find it?"
            choices={[
              { value: 'yes', label: 'Right', detail: 'what was read with it since the last one stands' },
              { value: 'no', label: 'Not right', detail: 'what was read with it since the last one is in question' },
            ]}
            value={value.foundRight || null}
            onChoice={(foundRight) => change({ foundRight })}
          />
          {errors.foundRight && <p class="form-error">{errors.foundRight}</p>}
        </div>
      )}
      <div class="setup-wide">
        <TextField {...field('words')} label="Note: certificate, what was adjusted" />
      </div>
    </div>
  );
}
